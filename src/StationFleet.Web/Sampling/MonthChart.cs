using System.Text.Json;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Statistics;
using static StationFleet.Web.Shell.ChartParts;

namespace StationFleet.Web.Sampling;

/// <summary>
/// Draws organisms by month: a point for each month on a bar from the lower to the upper limit. Months without a sample stay empty,
/// not zero.
/// </summary>
internal static class MonthChart
{
    /// <returns>The picture's options; null without a sample.</returns>
    public static string? Of(MonthRanking ranking)
    {
        if (ranking.Months.All(month => month.Value is null))
        {
            return null;
        }

        double? Limit(MonthResult month, Func<Bounded, double> take) => month.Value is { } value && double.IsFinite(take(value)) ? Math.Round(take(value), 3) : null;
        return JsonSerializer.Serialize(new
        {
            grid = Grid(top: 60),
            legend = Legend("95 % interval", "estimate"),
            tooltip = new { trigger = "axis" },
            xAxis = new { type = "category", data = ranking.Months.Select(month => SeasonTotalWords.Months([month.Month])), axisLine = Line(), axisLabel = new { color = "var(--ink-2)" } },
            yAxis = ValueAxis(ranking.Measure == MonthMeasure.Load ? "in the water collected" : "in a litre"),
            series = new object[]
            {
                new { type = "bar", name = "lower limit", stack = "interval", data = ranking.Months.Select(month => Limit(month, value => value.Low)), itemStyle = new { color = "transparent" }, silent = true },
                new
                {
                    type = "bar", name = "95 % interval", stack = "interval", barWidth = 14, itemStyle = new { color = "#7fae9a" },
                    data = ranking.Months.Select(month => Limit(month, value => value.High - value.Low)),
                },
                new { type = "scatter", name = "estimate", symbolSize = 10, itemStyle = new { color = "#2b6079" }, data = ranking.Months.Select(month => Limit(month, value => value.Value)) },
            },
        });
    }
}
