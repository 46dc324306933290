using System.Globalization;
using StationFleet.Domain.Sampling;

namespace StationFleet.Web.Sampling;

/// <summary>The fields of the form at the bench just as they were typed.</summary>
internal sealed record BenchInput
{
    public string ExaminedMl { get; init; } = "";

    /// <summary>Asked for only while the sample has none.</summary>
    public string ConcentrateMl { get; init; } = "";

    public string IdentifiedBy { get; init; } = "";

    /// <summary>The id of the aliquot that this counts again; empty for a first count.</summary>
    public string RecountOf { get; init; } = "";

    /// <summary>By <see cref="CountField"/>; empty where it was not looked for.</summary>
    public IReadOnlyDictionary<string, string> Counts { get; init; } = new Dictionary<string, string>();

    /// <summary>By <see cref="ConfidenceField"/>.</summary>
    public IReadOnlyDictionary<string, string> Confidences { get; init; } = new Dictionary<string, string>();

    public static string CountField(TaxonId taxon, LifeStage stage) => string.Create(CultureInfo.InvariantCulture, $"n-{taxon.Value}-{stage}");

    public static string ConfidenceField(TaxonId taxon, LifeStage stage) => string.Create(CultureInfo.InvariantCulture, $"sure-{taxon.Value}-{stage}");

    public static BenchInput From(IFormCollection form) => new()
    {
        ExaminedMl = form[nameof(ExaminedMl)].ToString(),
        ConcentrateMl = form[nameof(ConcentrateMl)].ToString(),
        IdentifiedBy = form[nameof(IdentifiedBy)].ToString(),
        RecountOf = form[nameof(RecountOf)].ToString(),
        Counts = Starting(form, "n-"),
        Confidences = Starting(form, "sure-"),
    };

    private static Dictionary<string, string> Starting(IFormCollection form, string with) =>
        form.Where(field => field.Key.StartsWith(with, StringComparison.Ordinal)).ToDictionary(field => field.Key, field => field.Value.ToString());
}
