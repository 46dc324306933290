using System.ComponentModel.DataAnnotations;

namespace StationFleet.Web.Sampling;

/// <summary>How samples are given to others.</summary>
public sealed class SamplingOptions
{
    public const string Section = "Sampling";

    /// <summary>The Darwin Core list of terms whose recommended words the archive uses.</summary>
    [AllowedValues("2021-07-15", "2026-05-26")]
    public string DarwinCoreTerms { get; set; } = "2021-07-15";

    /// <summary>ISO 3166-1 alpha-2; empty leaves it out.</summary>
    [RegularExpression("^([A-Z]{2})?$")]
    public string CountryCode { get; set; } = "";

    /// <summary>The address of the licence of published data; empty keeps all rights.</summary>
    public string License { get; set; } = "";

    /// <summary>Whom to ask about published data; empty names nobody.</summary>
    public string Contact { get; set; } = "";

    /// <summary>From 2026 on the recommended words for occurrenceStatus are others.</summary>
    public (string Found, string NotFound) StatusWords() => DarwinCoreTerms == "2026-05-26" ? ("detected", "notDetected") : ("present", "absent");
}
