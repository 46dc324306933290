using System.ComponentModel.DataAnnotations;

namespace StationFleet.Web.Telemetry;

/// <summary>How long raw readings are kept, from <c>appsettings.json</c>, the environment or the command line.</summary>
public sealed class RetentionOptions
{
    public const string Section = "Retention";

    /// <summary>Raw readings older than this go; their hourly and daily sums stay [days]. Empty keeps all.</summary>
    [Range(60, 36_500)]
    public int? RawDays { get; set; }
}
