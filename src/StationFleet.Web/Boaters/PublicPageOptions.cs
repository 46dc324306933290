using System.ComponentModel.DataAnnotations;

namespace StationFleet.Web.Boaters;

/// <summary>How much the page for boaters takes.</summary>
public sealed class PublicPageOptions
{
    public const string Section = "PublicPage";

    /// <summary>Problem reports taken from one network address in an hour.</summary>
    [Range(1, 1000)]
    public int ReportsPerAddress { get; set; } = 5;

    /// <summary>Problem reports taken at one access in an hour.</summary>
    [Range(1, 10_000)]
    public int ReportsPerAccess { get; set; } = 30;
}
