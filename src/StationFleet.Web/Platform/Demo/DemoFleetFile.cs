using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Platform.Demo;

/// <summary>The invented fleet, as it comes with the program.</summary>
internal sealed class DemoFleetFile
{
    private const int RecentDays = 30;

    public DemoFleetFile()
    {
        string path = Path.Combine(AppContext.BaseDirectory, "demo-data", "fleet.json");
        Fleet = FleetFile.Parse(File.ReadAllText(path)) switch
        {
            FleetFileReading.Read read => read.Fleet,
            FleetFileReading.Refused refused => throw new InvalidOperationException($"{path}: {refused.Faults[0]}"),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    public FleetFile Fleet { get; }

    /// <summary>The first local day that is there before the first page.</summary>
    public DateOnly RecentFirst => LocalCalendar.DateOf(DemoOffset.Start, Fleet.Zone).AddDays(-RecentDays);

    /// <summary>Its first instant; all before it is loaded in the background.</summary>
    public DateTimeOffset RecentFrom => LocalCalendar.StartOf(RecentFirst, Fleet.Zone);

    /// <summary>From here on reports go through the real intake.</summary>
    public static DateTimeOffset HttpFrom => DemoOffset.Start.AddDays(-1);
}
