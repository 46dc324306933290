using StationFleet.Web.Service.Phone;

namespace StationFleet.Web.Counts;

/// <summary>The fields of the count form just as they were typed, so that a wrong one comes back as it was.</summary>
public sealed record CountInput
{
    private const string ToolPrefix = "Tool-";

    /// <summary>Local time of the access; empty when the tally on the phone tells how long it took.</summary>
    public string From { get; init; } = "";

    /// <summary>Local time of the access; empty for when the button was pressed.</summary>
    public string To { get; init; } = "";

    /// <summary>How long the tally on the phone had run when the button was pressed, in whole seconds; empty without script.</summary>
    public string CountedSeconds { get; init; } = "";

    /// <summary>See <see cref="KeptOnPhone"/>.</summary>
    public string KeptSeconds { get; init; } = "";

    public string BoatsLeaving { get; init; } = "";

    public string BoatsAtStation { get; init; } = "";

    /// <summary>Uses by the tool's slug; all empty when nobody watched the tools.</summary>
    public IReadOnlyDictionary<string, string> Tools { get; init; } = new Dictionary<string, string>();

    public string Note { get; init; } = "";

    public static string ToolField(string slug) => ToolPrefix + slug;

    public static CountInput Read(IFormCollection form) => new()
    {
        From = form[nameof(From)].ToString(),
        To = form[nameof(To)].ToString(),
        CountedSeconds = form[nameof(CountedSeconds)].ToString(),
        KeptSeconds = form[KeptOnPhone.Field].ToString(),
        BoatsLeaving = form[nameof(BoatsLeaving)].ToString(),
        BoatsAtStation = form[nameof(BoatsAtStation)].ToString(),
        Tools = form.Keys.Where(key => key.StartsWith(ToolPrefix, StringComparison.Ordinal))
            .ToDictionary(key => key[ToolPrefix.Length..], key => form[key].ToString(), StringComparer.Ordinal),
        Note = form[nameof(Note)].ToString().ReplaceLineEndings("\n"),
    };
}
