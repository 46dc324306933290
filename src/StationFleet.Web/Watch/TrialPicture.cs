using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
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

/// <summary>Draws what a trial's ticket is about, with the instants of raising marked: the tank, the charge, or uses by day.</summary>
public sealed class TrialPicture(
    IDbContextFactory<FleetDbContext> databases, StationSetupReader setups, MeasurementReader measurements, IOptions<FleetOptions> fleet)
{
    private static readonly TimeSpan LongestAfter = TimeSpan.FromDays(14);

    /// <param name="Station">The station.</param>
    /// <param name="Rule">The rule.</param>
    /// <param name="Part">The part it is about.</param>
    /// <param name="Today">When today's limits raised it; null when they did not.</param>
    /// <param name="New">When the new limits raised it; null when they did not.</param>
    /// <param name="End">When it was over.</param>
    /// <param name="TodayLimits">Today's limits.</param>
    /// <param name="NewLimits">The new limits.</param>
    public sealed record Query(
        StationId Station, Rule Rule, string Part, DateTimeOffset? Today, DateTimeOffset? New, DateTimeOffset End, RuleSettings TodayLimits, RuleSettings NewLimits);

    /// <summary>A mark at an instant or a value, and what it says.</summary>
    private sealed record Mark(string Says, DateTimeOffset? At, double? Value, bool IsNew);

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
            Rule.TankFilling => await TankAsync(history, query, cancel),
            Rule.LowCharge or Rule.NotReporting => await ChargeAsync(history, query, cancel),
            Rule.IdleTool or Rule.FallingUse or Rule.RunawayCounter or Rule.StationUnused => await UsesAsync(history, query, cancel),
            _ => null,
        };
    }

    private async Task<string?> TankAsync(StationSetupHistory history, Query query, CancellationToken cancel)
    {
        string[] names = [MeasurementName.TankFill, MeasurementName.TankLevel, MeasurementName.TankDistance];
        return await LineAsync(
            history,
            query,
            names,
            daysBefore: 10,
            "tank, %",
            [Limit(query.TodayLimits.TankRaiseShare, isNew: false), Limit(query.NewLimits.TankRaiseShare, isNew: true)],
            hour => history.At(hour.RollUp.Figures.LastAt).Tank?.FillShare(hour.Name, hour.RollUp.Figures.Last),
            cancel);
    }

    private Task<string?> ChargeAsync(StationSetupHistory history, Query query, CancellationToken cancel) => LineAsync(
        history,
        query,
        [MeasurementName.BatteryCharge],
        daysBefore: 7,
        "charge, %",
        query.Rule == Rule.NotReporting
            ? []
            : [Limit(query.TodayLimits.ChargeRaiseShare, isNew: false), Limit(query.NewLimits.ChargeRaiseShare, isNew: true)],
        hour => hour.RollUp.Figures.Last,
        cancel);

    private async Task<string?> LineAsync(
        StationSetupHistory history,
        Query query,
        string[] names,
        int daysBefore,
        string name,
        Mark[] limits,
        Func<SeriesHour, double?> share,
        CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = Window(query, daysBefore, daysAfter: 2);
        TimeZoneInfo zone = history.At(First(query)).Zone;
        List<object?[]> points = [];
        DateTimeOffset? before = null;
        foreach (SeriesHour hour in await measurements.HoursAsync(query.Station, names, from, to, cancel))
        {
            DateTimeOffset at = hour.RollUp.Figures.LastAt;
            if (share(hour) is not { } value)
            {
                continue;
            }

            // A silence is a gap in the line.
            if (before is { } last && at - last > TimeSpan.FromHours(3))
            {
                points.Add([Local(last.AddHours(1), zone), null]);
            }

            points.Add([Local(at, zone), Math.Round(100 * value, 1)]);
            before = at;
        }

        return points.Count == 0 ? null : JsonSerializer.Serialize(new
        {
            grid = Grid(),
            tooltip = new { trigger = "axis" },
            xAxis = TimeAxis(),
            yAxis = ValueAxis(max: 100),
            series = new[]
            {
                new
                {
                    type = "line", name, showSymbol = false, data = points,
                    lineStyle = new { color = "var(--lake)", width = 2 }, itemStyle = new { color = "var(--lake)" },
                    markLine = Lines([.. limits.DistinctBy(limit => limit.Value), .. Raised(query)], at => Local(at, zone)),
                },
            },
        });
    }

    private async Task<string?> UsesAsync(StationSetupHistory history, Query query, CancellationToken cancel)
    {
        (DateTimeOffset from, DateTimeOffset to) = Window(query, daysBefore: 28, daysAfter: 7);
        TimeZoneInfo zone = history.At(First(query)).Zone;
        (DateOnly first, DateOnly last) = (LocalCalendar.DateOf(from, zone), LocalCalendar.DateOf(to, zone));
        string own = MeasurementName.Uses(query.Part);
        string[] names = [.. history.Tools.Select(tool => MeasurementName.Uses(tool.Slug)).Distinct()];
        IReadOnlyList<SeriesDay> rows = await measurements.DaysAsync([query.Station], names, first, last, cancel);
        DateOnly[] days = [.. Enumerable.Range(0, last.DayNumber - first.DayNumber + 1).Select(first.AddDays)];
        object Bars(string name, string colour, Func<SeriesDay, bool> isOf, object? markLine) => new
        {
            type = "bar", name, stack = "uses", itemStyle = new { color = colour }, markLine,
            data = days.Select(day => rows.Any(row => row.RollUp.Day == day && isOf(row))
                ? (double?)rows.Where(row => row.RollUp.Day == day && isOf(row)).Sum(row => row.RollUp.Figures.Gained)
                : null),
        };
        string Day(DateOnly day) => day.ToString("d MMM", English);
        object marks = Lines(Raised(query), at => Day(LocalCalendar.DateOf(at, zone)));
        string? tool = history.Tools.LastOrDefault(tool => tool.Slug == query.Part)?.Name;
        return rows.Count == 0 ? null : JsonSerializer.Serialize(new
        {
            grid = Grid(),
            tooltip = new { trigger = "axis" },
            legend = new { top = 0, left = 0, itemWidth = 12, itemHeight = 12, icon = "roundRect", textStyle = new { color = "var(--ink)" } },
            xAxis = new { type = "category", data = days.Select(Day), axisTick = new { show = false }, axisLine = Line(), axisLabel = new { color = "var(--ink-2)" } },
            yAxis = ValueAxis(),
            series = tool is null
                ? new[] { Bars("uses of all tools", "var(--lake)", _ => true, marks) }
                : [Bars($"uses of the {tool}", "var(--lake)", row => row.Name == own, marks), Bars("of the other tools", "#b08a4a", row => row.Name != own, null)],
        });
    }

    private static DateTimeOffset First(Query query) => query.Today < query.New ? query.Today.Value : query.New ?? query.Today!.Value;

    private static (DateTimeOffset From, DateTimeOffset To) Window(Query query, int daysBefore, int daysAfter)
    {
        DateTimeOffset first = First(query);
        DateTimeOffset last = query.Today > query.New ? query.Today.Value : query.New ?? query.Today!.Value;
        DateTimeOffset end = query.End - last > LongestAfter ? last + LongestAfter : query.End > last ? query.End : last;
        return (first.AddDays(-daysBefore), end.AddDays(daysAfter));
    }

    private static Mark Limit(double share, bool isNew) => new(isNew ? "new limit" : "today's limit", null, Math.Round(100 * share, 1), isNew);

    private static Mark[] Raised(Query query) =>
    [
        .. query.Today is { } today ? [new Mark("raised, today's", today, null, IsNew: false)] : Array.Empty<Mark>(),
        .. query.New is { } raised ? [new Mark("raised, new", raised, null, IsNew: true)] : Array.Empty<Mark>(),
    ];

    private static object Lines(IReadOnlyList<Mark> marks, Func<DateTimeOffset, string> on) => new
    {
        silent = true,
        symbol = "none",
        data = marks.Select(mark => new Dictionary<string, object>
        {
            [mark.At is null ? "yAxis" : "xAxis"] = mark.At is { } at ? on(at) : mark.Value!,
            ["lineStyle"] = new { color = mark.IsNew ? "var(--pine)" : "var(--visit)", type = mark.At is null ? "dashed" : "solid", width = 1.5 },
            ["label"] = new
            {
                formatter = mark.Says, color = mark.IsNew ? "var(--pine)" : "var(--visit)",
                position = mark.At is null ? "insideEndTop" : mark.IsNew ? "end" : "insideEnd", rotate = 0,
            },
        }),
    };
}
