using System.Globalization;
using System.Text.Json;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;

namespace StationFleet.Web.Seasons;

/// <summary>Draws a season's uses, availability and tank, with the words and colours of the printed report.</summary>
internal static class SeasonCharts
{
    private static readonly (ToolKind Kind, string Colour)[] Kinds =
    [
        (ToolKind.Vacuum, "var(--lake)"), (ToolKind.Grabber, "var(--silent)"), (ToolKind.Wrench, "var(--watch)"),
        (ToolKind.Brush, "var(--working)"), (ToolKind.Blower, "var(--closed)"), (ToolKind.Other, "var(--ink-2)"),
    ];

    private static readonly string[] PlainEnd = ["none", "triangle"];

    /// <summary>A bar for each week, of a part for each kind of tool; a week without data leaves a gap.</summary>
    public static string? UsesByWeek(IReadOnlyList<WeekUses> weeks) => weeks.Count == 0 ? null : JsonSerializer.Serialize(new
    {
        grid = new { left = 48, right = 8, top = 34, bottom = 28 },
        legend = Legend,
        tooltip = new { trigger = "axis" },
        xAxis = new
        {
            type = "category",
            data = weeks.Select(week => week.Monday.ToString("d MMM", CultureInfo.InvariantCulture)),
            axisTick = new { show = false },
            axisLabel = Label,
            axisLine = Line,
        },
        yAxis = new { type = "value", minInterval = 1, axisLabel = Label, splitLine = Split },
        series = Kinds.Where(kind => weeks.Any(week => week.ByKind.ContainsKey(kind.Kind))).Select(kind => new
        {
            type = "bar",
            stack = "uses",
            name = kind.Kind.ToString(),
            data = weeks.Select(week => week.Uses is null ? (double?)null : week.ByKind.GetValueOrDefault(kind.Kind)),
            itemStyle = new { color = kind.Colour },
            barMaxWidth = 26,
        }),
    });

    /// <summary>A strip for each station: hours in service, down and not required, one after the other.</summary>
    public static string? Availability(IReadOnlyList<StationSeason> stations)
    {
        StationSeason[] shown = [.. stations.Where(station => station.Service.Count > 0).Reverse()];
        if (shown.Length == 0)
        {
            return null;
        }

        // Stretches of a station lie end to end, so each is a part of one stacked bar that begins at the counted time's start.
        int most = shown.Max(station => station.Service.Count);
        DateTimeOffset start = shown.Min(station => station.Service[0].Span.Start);
        return JsonSerializer.Serialize(new
        {
            grid = new { left = 70, right = 8, top = 8, bottom = 28 },
            xAxis = new
            {
                type = "value",
                max = shown.Max(station => Days(station.Service[^1].Span.End - start)),
                axisLabel = new { color = "var(--ink-2)", showMaxLabel = false },
                splitLine = Split,
                name = "days since the first",
                nameLocation = "middle",
                nameGap = 20,
                nameTextStyle = Label,
            },
            yAxis = new { type = "category", data = shown.Select(station => station.Code), axisTick = new { show = false }, axisLabel = Label, axisLine = Line },
            series = Enumerable.Range(0, most).Select(number => new
            {
                type = "bar",
                stack = "season",
                silent = true,
                barWidth = 16,
                data = shown.Select(station => number < station.Service.Count
                    ? new { value = Days(station.Service[number].Span.End - station.Service[number].Span.Start), itemStyle = new { color = ColourOf(station.Service[number].State) } }
                    : new { value = 0.0, itemStyle = new { color = "transparent" } }),
            }),
        });
    }

    /// <summary>What one station's tank held at the end of each day, with a mark at each pump-out.</summary>
    public static string? Tank(StationSeason station, UnitSystem units) => station.Tank.Count == 0 ? null : JsonSerializer.Serialize(new
    {
        grid = new { left = 48, right = 12, top = 16, bottom = 28 },
        tooltip = new { trigger = "axis" },
        xAxis = new { type = "time", axisLabel = Label, axisLine = Line },
        yAxis = new { type = "value", name = Units.VolumeUnit(units), axisLabel = Label, splitLine = Split, nameTextStyle = Label },
        series = new[]
        {
            new
            {
                type = "line",
                name = $"In the tank, {Units.VolumeUnit(units)}",
                showSymbol = false,
                itemStyle = new { color = "var(--lake)" },
                data = station.Tank.Select(volume => new object[] { volume.At.ToUnixTimeMilliseconds(), Math.Round(Units.VolumeFor(volume.Litres, units), 1) }),
                markLine = new
                {
                    symbol = PlainEnd,
                    label = new { show = false },
                    lineStyle = new { color = "var(--visit)", type = "dashed" },
                    data = station.PumpOuts.Select(pumpOut => new { xAxis = pumpOut.At.ToUnixTimeMilliseconds() }),
                },
            },
        },
    });

    private static object Label => new { color = "var(--ink-2)" };

    private static object Line => new { lineStyle = new { color = "var(--rule)" } };

    private static object Split => new { lineStyle = new { color = "var(--rule-2)" } };

    private static object Legend => new { top = 0, left = 40, itemWidth = 12, itemHeight = 10, textStyle = new { color = "var(--ink-2)" } };

    private static string ColourOf(ServiceState state) => state switch
    {
        ServiceState.Up => "var(--working)",
        ServiceState.Down => "var(--visit)",
        _ => "var(--rule)",
    };

    private static double Days(TimeSpan length) => Math.Round(length.TotalDays, 3);
}
