using System.Globalization;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Platform;

/// <summary>
/// The demo's clock starts on the morning of the scenario, whatever the date, and goes on from there over restarts: its offset is
/// kept in a file beside the demo's database.
/// </summary>
internal static class DemoOffset
{
    private static readonly DateOnly FirstDay = new(2026, 7, 8);

    /// <summary>The instant at which every demo begins: Wednesday 8 July 2026, 07:05 in America/Boise.</summary>
    public static DateTimeOffset Start { get; } =
        LocalCalendar.StartOf(FirstDay, TimeZoneInfo.FindSystemTimeZoneById("America/Boise")).AddHours(7).AddMinutes(5);

    public static FleetClock ClockFor(FleetPaths paths, TimeProvider system)
    {
        if (!paths.IsDemo)
        {
            return new FleetClock(system, TimeSpan.Zero);
        }

        string file = Path.Combine(paths.Folder, "clock-offset.txt");
        if (!File.Exists(file))
        {
            TimeSpan first = Start - system.GetUtcNow();
            File.WriteAllText(file, first.ToString("c", CultureInfo.InvariantCulture));
        }

        return new FleetClock(system, TimeSpan.Parse(File.ReadAllText(file), CultureInfo.InvariantCulture));
    }
}
