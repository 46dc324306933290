using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using static StationFleet.Web.Shell.ChartParts;

namespace StationFleet.Web.Watch;

/// <summary>
/// Draws what a trial's ticket is about, with the instants of raising marked: the tank, the charge, uses by day, the panel by day, how far
/// away the station is, or how wrong its clock.
/// </summary>
public sealed partial class TrialPicture(
    IDbContextFactory<FleetDbContext> databases, StationSetupReader setups, MeasurementReader measurements, IOptions<FleetOptions> fleet)
{
    // An open ticket goes on to the end of the season; what it is about stands at its beginning.
    private static readonly TimeSpan LongestAfter = TimeSpan.FromDays(14);
    private static readonly TimeSpan Silence = TimeSpan.FromHours(3);

    /// <param name="Station">The station.</param>
    /// <param name="Rule">The rule.</param>
    /// <param name="Part">The part it is about.</param>
    /// <param name="Today">When today's limits raised it; null when they did not.</param>
    /// <param name="New">When the new limits raised it; null when they did not.</param>
    /// <param name="End">When it was over.</param>
    /// <param name="TodayLimits">Today's limits.</param>
    /// <param name="NewLimits">The new limits.</param>
    public sealed record Query(
        StationId Station, Rule Rule, string Part, DateTimeOffset? Today, DateTimeOffset? New, DateTimeOffset End, RuleSettings TodayLimits, RuleSettings NewLimits)
    {
        internal DateTimeOffset First => Today < New ? Today.Value : New ?? Today!.Value;

        internal DateTimeOffset Last => Today > New ? Today.Value : New ?? Today!.Value;
    }

    /// <returns>Options of the picture as JSON; null when there is nothing to draw.</returns>
    public async Task<string?> HandleAsync(Viewer viewer, Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        await using (FleetDbContext db = await databases.CreateDbContextAsync(cancel))
        {
            if (!await db.Stations.VisibleTo(viewer).AnyAsync(row => row.Id == query.Station, cancel))
            {
                return null;
            }
        }

        return await setups.ReadHistoryAsync(query.Station, fleet.Value.Zone, cancel) is not { } history ? null : query.Rule switch
        {
            Rule.TankFilling or Rule.TankSensor => await TankAsync(history, query, cancel),
            Rule.WeakPanel => await PanelAsync(history, query, cancel),
            Rule.Moved => await AwayAsync(history, query, cancel),
            Rule.ClockWrong => await ClockAsync(history, query, cancel),
            Rule.LowCharge or Rule.ExtraLoad or Rule.AgedBattery or Rule.NotReporting => await ChargeAsync(history, query, cancel),
            Rule.IdleTool or Rule.FallingUse or Rule.RunawayCounter or Rule.StationUnused => await UsesAsync(history, query, cancel),
            _ => null,
        };
    }

    private async Task<string?> TankAsync(StationSetupHistory history, Query query, CancellationToken cancel)
    {
        if (history.Always.Tank.At(query.First) is not { } tank)
        {
            return null;
        }

        UnitSystem units = fleet.Value.Units;
        double Amount(double litres) => Math.Round(Units.VolumeFor(litres, units), 1);
        double Limit(RuleSettings limits) => Amount(limits.TankRaiseShare * tank.CapacityLitres);
        return await LineAsync(
            history,
            query,
            TankReading.NeededNames,
            daysBefore: 10,
            (Name: "in the tank", Axis: ValueAxis(Units.VolumeUnit(units), Amount(tank.CapacityLitres))),
            TrialMarks.Limits(Limit(query.TodayLimits), Limit(query.NewLimits)),
            hour => history.Always.Tank.ReadBest(hour) is { } said ? (said.Reading.At, Amount(said.Amount.Litres)) : null,
            cancel);
    }

    private Task<string?> ChargeAsync(StationSetupHistory history, Query query, CancellationToken cancel) => LineAsync(
        history,
        query,
        [MeasurementName.BatteryCharge],
        daysBefore: 7,
        (Name: "charge, %", Axis: ValueAxis("charge, %", max: 100, interval: 25)),
        query.Rule != Rule.LowCharge ? [] : TrialMarks.Limits(100 * query.TodayLimits.ChargeRaiseShare, 100 * query.NewLimits.ChargeRaiseShare),
        hour => (hour[0].At, Math.Round(100 * hour[0].Value, 1)),
        cancel);

    private async Task<string?> LineAsync(
        StationSetupHistory history,
        Query query,
        IReadOnlyCollection<string> names,
        int daysBefore,
        (string Name, object Axis) what,
        IReadOnlyList<object> limits,
        Func<IReadOnlyList<Measurement>, (DateTimeOffset At, double Value)?> say,
        CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = Window(query, daysBefore, daysAfter: 2);
        TimeZoneInfo zone = history.ZoneAt(query.First);
        List<object?[]> points = [];
        DateTimeOffset? before = null;
        IReadOnlyList<SeriesHour> rows = await measurements.HoursAsync(query.Station, names, from, to, cancel);
        foreach (IGrouping<HourKey, SeriesHour> hour in rows.GroupBy(row => row.RollUp.Key))
        {
            if (say([.. hour.Select(row => new Measurement(row.Name, row.RollUp.Figures.LastAt, row.RollUp.Figures.Last))]) is not { } said)
            {
                continue;
            }

            if (before is { } last && said.At - last > Silence)
            {
                points.Add([Local(last.AddHours(1), zone), null]);
            }

            points.Add([Local(said.At, zone), said.Value]);
            before = said.At;
        }

        return points.Count == 0 ? null : Curve(query, zone, to, what, limits, points);
    }

    private static string Curve(
        Query query, TimeZoneInfo zone, DateTimeOffset to, (string Name, object Axis) what, IReadOnlyList<object> limits, List<object?[]> points) =>
        JsonSerializer.Serialize(new
        {
            grid = Grid(),
            tooltip = new { trigger = "axis" },
            xAxis = TimeAxis(max: Local(to, zone)),
            yAxis = what.Axis,
            series = new[]
            {
                new
                {
                    type = "line", name = what.Name, showSymbol = false, data = points,
                    lineStyle = new { color = "var(--lake)", width = 2 }, itemStyle = new { color = "var(--lake)" },
                    markLine = TrialMarks.Of([.. limits, .. TrialMarks.Raised(query, at => Local(at, zone))]),
                },
            },
        });

    private async Task<string?> UsesAsync(StationSetupHistory history, Query query, CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = Window(query, daysBefore: 28, daysAfter: 7);
        TimeZoneInfo zone = history.ZoneAt(query.First);
        (DateOnly first, DateOnly last) = (LocalCalendar.DateOf(from, zone), LocalCalendar.DateOf(to, zone));
        string own = MeasurementName.Uses(query.Part);
        string[] names = [.. history.Tools.Select(tool => MeasurementName.Uses(tool.Slug)).Distinct()];
        IReadOnlyList<SeriesDay> rows = await measurements.DaysAsync([query.Station], names, first, last, cancel);
        DateOnly[] days = [.. Enumerable.Range(0, last.DayNumber - first.DayNumber + 1).Select(first.AddDays)];
        string Day(DateOnly day) => day.ToString("d MMM", English);
        object Bars(string name, string colour, Func<SeriesDay, bool> isOf, object? markLine) => new
        {
            type = "bar",
            name,
            stack = "uses",
            itemStyle = new { color = colour },
            markLine,
            data = days.Select(day => rows.Where(row => row.RollUp.Day == day && isOf(row)).Select(row => (double?)row.RollUp.Figures.Gained)
                .Aggregate((double?)null, (sum, gained) => (sum ?? 0) + gained)),
        };
        object marks = TrialMarks.Of(TrialMarks.Raised(query, at => Day(LocalCalendar.DateOf(at, zone))));
        string? tool = history.Tools.LastOrDefault(tool => tool.Slug == query.Part)?.Name;
        return rows.Count == 0 ? null : JsonSerializer.Serialize(new
        {
            grid = Grid(top: 56),
            tooltip = new { trigger = "axis" },
            legend = Legend(),
            xAxis = new { type = "category", data = days.Select(Day), axisTick = new { show = false }, axisLine = Line(), axisLabel = new { color = "var(--ink-2)" } },
            yAxis = ValueAxis(),
            series = tool is null
                ? new[] { Bars("uses of all tools", "var(--lake)", _ => true, marks) }
                : [Bars($"uses of {tool}", "var(--lake)", row => row.Name == own, marks), Bars("uses of the other tools", "#b08a4a", row => row.Name != own, null)],
        });
    }

    private static (DateTimeOffset From, DateTimeOffset To) Window(Query query, int daysBefore, int daysAfter)
    {
        DateTimeOffset latest = query.Last + LongestAfter;
        DateTimeOffset end = query.End > latest ? latest : query.End > query.Last ? query.End : query.Last;
        return (query.First.AddDays(-daysBefore), end.AddDays(daysAfter));
    }
}
