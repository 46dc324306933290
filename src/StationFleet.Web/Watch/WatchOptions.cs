using System.ComponentModel.DataAnnotations;

namespace StationFleet.Web.Watch;

/// <summary>How the watch runs, from <c>appsettings.json</c>, the environment or the command line.</summary>
public sealed class WatchOptions
{
    public const string Section = "Watch";

    /// <summary>How often the watch looks, which also is the distance of the instants that it judges [min].</summary>
    [Range(1, 60)]
    public int EveryMinutes { get; set; } = 5;

    public TimeSpan Every => TimeSpan.FromMinutes(EveryMinutes);
}
