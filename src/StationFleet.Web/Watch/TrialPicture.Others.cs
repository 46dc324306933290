using System.Text.Json;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;
using static StationFleet.Web.Shell.ChartParts;

namespace StationFleet.Web.Watch;

/// <content>The panel, the place and the clock.</content>
public sealed partial class TrialPicture
{
    private const int PanelDays = 60;

    private async Task<string?> PanelAsync(StationSetupHistory history, Query query, CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = Window(query, daysBefore: PanelDays, daysAfter: 7);
        TimeZoneInfo zone = history.ZoneAt(query.First);
        (DateOnly first, DateOnly last) = (LocalCalendar.DateOf(from, zone), LocalCalendar.DateOf(to, zone));
        IReadOnlyList<SeriesDay> rows = await measurements.DaysAsync([query.Station], [MeasurementName.SolarPower], first, last, cancel);
        ILookup<DateOnly, double> greatest = rows.ToLookup(row => row.RollUp.Day, row => row.RollUp.Figures.Max);
        DateOnly[] days = [.. Enumerable.Range(0, last.DayNumber - first.DayNumber + 1).Select(first.AddDays)];
        string Day(DateOnly day) => day.ToString("d MMM", English);
        return rows.Count == 0 ? null : JsonSerializer.Serialize(new
        {
            grid = Grid(top: 56),
            tooltip = new { trigger = "axis" },
            legend = Legend(),
            xAxis = new { type = "category", data = days.Select(Day), axisTick = new { show = false }, axisLine = Line(), axisLabel = new { color = "var(--ink-2)" } },
            yAxis = ValueAxis("W"),
            series = new[]
            {
                new
                {
                    type = "bar",
                    name = "most that the panel gave on the day, W",
                    itemStyle = new { color = "var(--lake)" },
                    data = days.Select(day => greatest[day].Select(watts => (double?)Math.Round(watts, 1)).DefaultIfEmpty().Max()),
                    markLine = TrialMarks.Of(TrialMarks.Raised(query, at => Day(LocalCalendar.DateOf(at, zone)))),
                },
            },
        });
    }

    private Task<string?> AwayAsync(StationSetupHistory history, Query query, CancellationToken cancel) => LineAsync(
        history,
        query,
        [MeasurementName.Latitude, MeasurementName.Longitude],
        daysBefore: 7,
        (Name: "from its access, m", Axis: ValueAxis("from its access, m")),
        TrialMarks.Limits(query.TodayLimits.MovedMetres, query.NewLimits.MovedMetres),
        hour => Away(hour, history.Always.Places),
        cancel);

    private static (DateTimeOffset At, double Value)? Away(IReadOnlyList<Measurement> hour, IReadOnlyList<StandingPlace> places)
    {
        Measurement[] north = [.. hour.Where(said => said.Name == MeasurementName.Latitude)];
        Measurement[] east = [.. hour.Where(said => said.Name == MeasurementName.Longitude)];
        return north.Length > 0 && east.Length > 0 && places.LastOrDefault(place => place.Contains(north[0].At)) is { } access
            ? (north[0].At, Math.Round(MovedStation.DistanceMetres(north[0].Value, east[0].Value, access.LatitudeDeg, access.LongitudeDeg)))
            : null;
    }

    // A reading is at least as old as its way here takes: below 0 it comes from the future.
    private async Task<string?> ClockAsync(StationSetupHistory history, Query query, CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = Window(query, daysBefore: 3, daysAfter: 2);
        TimeZoneInfo zone = history.ZoneAt(query.First);
        IReadOnlyList<(DateTimeOffset Received, TimeSpan Behind)> arrivals = await measurements.ArrivalsAsync(query.Station, from, to, cancel);
        return arrivals.Count == 0 ? null : Curve(
            query,
            zone,
            to,
            (Name: "newest reading behind its arrival, min", Axis: ValueAxis("behind its arrival, min", fromZero: false)),
            [],
            [.. arrivals.Select(arrival => new object?[] { Local(arrival.Received, zone), Math.Round(arrival.Behind.TotalMinutes, 1) })]);
    }
}
