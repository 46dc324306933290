using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Power;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Platform;
using static StationFleet.Web.Shell.ChartParts;

namespace StationFleet.Web.Fleet;

/// <summary>Reads a station's pictures out of roll-ups, as chart options.</summary>
public sealed class StationCharts(
    IDbContextFactory<FleetDbContext> databases,
    MeasurementReader measurements,
    FleetClock clock,
    IOptions<FleetOptions> options)
{
    private const int UseDays = 60;
    private const int TankDays = 30;
    private const int PowerDays = 14;
    private static readonly TimeSpan FanDays = TimeSpan.FromDays(14);
    private static readonly string[] Named = ["charge, %", "panel, W", "ahead, 80 %"];

    // In the order of the bars; told apart by lightness as well as hue.
    private static readonly string[] ToolColours = ["#2b6079", "#7fae9a", "#b08a4a", "#8a6d9e", "#c2704f", "#6f7f7a"];

    /// <summary>Chart options as JSON; null where there is nothing to draw.</summary>
    public sealed record View(string? Uses, string? Tank, string? Power);

    /// <param name="state">The station, as the viewer sees it.</param>
    /// <param name="expected">What is to be expected of the station, as last reckoned.</param>
    /// <param name="ahead">The charge at each sunrise and sunset ahead.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<View> HandleAsync(
        ReadStationStates.State state, StationAhead? expected, IReadOnlyList<ChargeBand> ahead, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<Tool> tools = await db.Tools.AsNoTracking().Where(tool => tool.StationId == state.Id).ToListAsync(cancel);
        TankHistory tank = await db.TankHistoryAsync(state.Id, cancel);
        RuleSettings rules = (await db.StationRules.AsNoTracking().FirstOrDefaultAsync(row => row.StationId == state.Id, cancel))?.Settings
            ?? RuleSettings.Default;
        return new View(
            await UsesAsync(state, tools, now, cancel),
            await TankAsync(state, tank, rules, expected, now, cancel),
            await PowerAsync(state, rules, ahead, now, cancel));
    }

    private async Task<string?> UsesAsync(ReadStationStates.State state, IReadOnlyList<Tool> tools, DateTimeOffset now, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(now, state.Zone);
        DateOnly first = today.AddDays(-UseDays);
        string[] names = [.. tools.Select(tool => MeasurementName.Uses(tool.Slug)).Distinct()];
        IReadOnlyList<SeriesDay> rows = await measurements.DaysAsync([state.Id], names, first, today, cancel);
        if (rows.Count == 0)
        {
            return null;
        }

        DateOnly[] days = [.. Enumerable.Range(0, UseDays + 1).Select(first.AddDays)];
        var series = tools.DistinctBy(tool => tool.Slug).Select((tool, index) =>
        {
            Dictionary<DateOnly, double> used = rows.Where(row => row.Name == MeasurementName.Uses(tool.Slug))
                .GroupBy(row => row.RollUp.Day).ToDictionary(day => day.Key, day => day.Sum(row => row.RollUp.Figures.Gained));
            return new
            {
                type = "bar",
                name = tool.Name,
                stack = "uses",
                itemStyle = new { color = ToolColours[index % ToolColours.Length] },
                data = days.Select(day => used.TryGetValue(day, out double count) ? (double?)count : null),
            };
        });
        return JsonSerializer.Serialize(new
        {
            grid = Grid(),
            tooltip = new { trigger = "axis" },
            legend = Legend(),
            xAxis = new { type = "category", data = days.Select(day => day.ToString("d MMM", English)), axisTick = new { show = false }, axisLine = Line(), axisLabel = new { color = "var(--ink-2)" } },
            yAxis = ValueAxis(),
            series,
        });
    }

    private async Task<string?> TankAsync(
        ReadStationStates.State state, TankHistory tank, RuleSettings rules, StationAhead? expected, DateTimeOffset now, CancellationToken cancel)
    {
        if (tank.At(now) is not { } present)
        {
            return null;
        }

        IReadOnlyList<SeriesHour> hours = await measurements.HoursAsync(state.Id, TankReading.NeededNames, now.AddDays(-TankDays), now, cancel);
        double Amount(double litres) => Math.Round(Units.VolumeFor(litres, options.Value.Units), 1);
        var points = hours.GroupBy(hour => hour.RollUp.Key)
            .Select(hour => tank.ReadBest([.. hour.Select(row => new Measurement(row.Name, row.RollUp.Figures.LastAt, row.RollUp.Figures.Last))]))
            .OfType<(TankReading Reading, TankAmount Amount)>()
            .Select(said => new object[] { Local(said.Reading.At, state.Zone), Amount(said.Amount.Litres) })
            .ToList();
        return points.Count == 0 ? null : JsonSerializer.Serialize(new
        {
            grid = Grid(),
            tooltip = new { trigger = "axis" },
            xAxis = TimeAxis(),
            yAxis = ValueAxis(Units.VolumeUnit(options.Value.Units), Amount(present.CapacityLitres)),
            series = (object[])
            [
                new
                {
                    type = "line", name = "in the tank", showSymbol = false, data = points,
                    lineStyle = new { color = "var(--lake)", width = 2 }, itemStyle = new { color = "var(--lake)" },
                    areaStyle = new { color = "var(--lake-wash)" },
                    markLine = new
                    {
                        silent = true, symbol = "none", label = new { formatter = "ticket", color = "var(--ink-2)", position = "insideEndTop" },
                        lineStyle = new { color = "var(--visit)", type = "dashed" },
                        data = new[] { new { yAxis = Amount(rules.TankRaiseShare * present.CapacityLitres) } },
                    },
                },
                .. Fan(expected, now, state.Zone, share => Amount(share * present.CapacityLitres)),
            ],
        });
    }

    // From the present level to full: the middle dotted, the early and the late end of the 80 % thin.
    private static IEnumerable<object> Fan(StationAhead? expected, DateTimeOffset now, TimeZoneInfo zone, Func<double, double> amount)
    {
        if (expected is not { TankShare: { } share and < 1, TankFull: { Early: var early } full } || early - now > FanDays)
        {
            yield break;
        }

        foreach ((string name, DateTimeOffset? at, double width, string type) in new[]
        {
            ("full early, 10 %", (DateTimeOffset?)early, 1.0, "solid"), ("most likely", full.Likeliest, 2.0, "dotted"), ("full late, 90 %", full.Late, 1.0, "solid"),
        })
        {
            // Beyond a fortnight the line leaves the picture at its own slope.
            if (at is { } end)
            {
                double part = Math.Min(1, FanDays / (end - now));
                yield return new
                {
                    type = "line", name, showSymbol = false, silent = true, lineStyle = new { color = "var(--lake)", width, type }, itemStyle = new { color = "var(--lake)" },
                    data = new[]
                    {
                        new object[] { Local(now, zone), amount(share) },
                        new object[] { Local(now + ((end - now) * part), zone), amount(share + ((1 - share) * part)) },
                    },
                };
            }
        }
    }

    private async Task<string?> PowerAsync(
        ReadStationStates.State state, RuleSettings rules, IReadOnlyList<ChargeBand> ahead, DateTimeOffset now, CancellationToken cancel)
    {
        IReadOnlyList<SeriesHour> hours = await measurements.HoursAsync(
            state.Id, [MeasurementName.BatteryCharge, MeasurementName.SolarPower], now.AddDays(-PowerDays), now, cancel);
        object[][] Points(string name, Func<RollUpFigures, double> value) => [.. hours.Where(hour => hour.Name == name)
            .Select(hour => new object[] { Local(hour.RollUp.Figures.LastAt, state.Zone), Math.Round(value(hour.RollUp.Figures), 1) })];
        object[][] charge = Points(MeasurementName.BatteryCharge, figures => 100 * figures.Last);
        object[][] sun = Points(MeasurementName.SolarPower, figures => figures.Mean);
        object[][] Ahead(Func<ChargeBand, double> value) => [.. ahead.Select(band => new object[] { Local(band.At, state.Zone), Math.Round(100 * value(band), 1) })];

        // The band is the stretch between two lines that are not drawn.
        object Edge(string name, object[][] data, double opacity) => new
        {
            type = "line", name, stack = "ahead", showSymbol = false, silent = true, data, lineStyle = new { opacity = 0 }, itemStyle = new { color = "var(--pine)" },
            areaStyle = new { color = "var(--pine)", opacity }, tooltip = new { show = false },
        };
        return charge.Length + sun.Length == 0 ? null : JsonSerializer.Serialize(new
        {
            grid = Grid(right: 52),
            tooltip = new { trigger = "axis" },
            legend = Legend(Named),
            xAxis = TimeAxis(),
            yAxis = new object[] { ValueAxis(max: 100), ValueAxis() },
            series = new object[]
            {
                new
                {
                    type = "line", name = "charge, %", showSymbol = false, data = charge, lineStyle = new { color = "var(--pine)", width = 2 }, itemStyle = new { color = "var(--pine)" }, z = 3,
                    markLine = new
                    {
                        silent = true, symbol = "none", label = new { formatter = "ticket", color = "var(--ink-2)", position = "insideEndTop" },
                        lineStyle = new { color = "var(--visit)", type = "dashed" }, data = new[] { new { yAxis = 100 * rules.ChargeRaiseShare } },
                    },
                },
                new
                {
                    type = "line", name = "panel, W", yAxisIndex = 1, showSymbol = false, data = sun, step = "middle",
                    lineStyle = new { color = "#b08a4a", width = 1 }, itemStyle = new { color = "#b08a4a" }, areaStyle = new { color = "#b08a4a", opacity = .25 },
                },
                Edge("low", Ahead(band => band.Low), 0),
                Edge("ahead, 80 %", Ahead(band => band.High - band.Low), .18),
                new
                {
                    type = "line", name = "middle", showSymbol = false, data = Ahead(band => band.Middle),
                    lineStyle = new { color = "var(--pine)", width = 2, type = "dotted" }, itemStyle = new { color = "var(--pine)" }, z = 3,
                },
            },
        });
    }
}
