using System.ComponentModel.DataAnnotations;
using StationFleet.Domain.Quantities;

namespace StationFleet.Web.Platform;

/// <summary>Settings of the whole installation, from <c>appsettings.json</c>, the environment or the command line.</summary>
public sealed class FleetOptions
{
    public const string Section = "Fleet";

    /// <summary>The name of the agency that runs this installation, on pages, mails and exports.</summary>
    [Required]
    public string Organization { get; set; } = "Our stations";

    /// <summary>The units that people read and write.</summary>
    public UnitSystem Units { get; set; } = UnitSystem.UsCustomary;

    /// <summary>The time zone of a station that stands at no access.</summary>
    [Required]
    public string TimeZone { get; set; } = "UTC";

    /// <summary>The address at which people reach this server, for links in mails; empty takes the address it listens on.</summary>
    public string PublicUrl { get; set; } = "";

    public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(TimeZone);
}
