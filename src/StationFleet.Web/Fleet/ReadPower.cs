using System.Text.Json;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Web.Platform;
using StationFleet.Web.Watch;
using static StationFleet.Web.Shell.ChartParts;

namespace StationFleet.Web.Fleet;

/// <summary>How a station's charge may go on and how its panel compares with what it used to give, by what the watch knew when it last looked.</summary>
public sealed class ReadPower(ReadWatchState watch, IOptions<FleetOptions> fleet)
{
    private const int PanelDays = 60;

    /// <param name="Charge">The charge and where it goes, in a sentence.</param>
    /// <param name="Panel">How the panel is, in a sentence.</param>
    /// <param name="Bands">The charge at each sunrise and sunset ahead.</param>
    /// <param name="PanelPicture">The panel by day, as chart options; null where there is nothing to draw.</param>
    public sealed record View(string? Charge, string? Panel, IReadOnlyList<ChargeBand> Bands, string? PanelPicture)
    {
        internal static readonly View Nothing = new(null, null, [], null);
    }

    public async Task<View> HandleAsync(StationId station, TimeZoneInfo zone, DateTimeOffset now, CancellationToken cancel)
    {
        if (await watch.HandleAsync(station, now, cancel) is not { } known)
        {
            return View.Nothing;
        }

        (StationSetup setup, WatchState state) = known;
        DateOnly yesterday = LocalCalendar.DateOf(now, zone).AddDays(-1);
        ChargeOutlook? outlook = LowCharge.Outlook(state.Facts, known.Context, now);
        ChargeForecast? forecast = outlook?.Under(setup.Rules.ChargeRaiseShare, TimeSpan.FromHours(setup.Rules.ChargeResponseHours));
        return new View(
            PowerWords.Charge(state.Facts, forecast, new Reader(fleet.Value.Units, zone, now)),
            PowerWords.Panel(state.Facts, setup.Power, yesterday),
            outlook is null ? [] : [.. outlook.Bands()],
            Picture(state.Facts, setup.Rules, yesterday));
    }

    // Days without a bar were not tested: the battery was full.
    private static string? Picture(StationFacts facts, RuleSettings rules, DateOnly last)
    {
        Dictionary<DateOnly, double> tested = facts.Power.Tested.ToDictionary(day => day.Date, day => Math.Round(100 * day.Share));
        if (tested.Count == 0)
        {
            return null;
        }

        double? usual = WeakPanel.Usual(facts);
        DateOnly[] days = [.. Enumerable.Range(1 - PanelDays, PanelDays).Select(last.AddDays)];
        object Mark(double at, string name, string colour) => new
        {
            yAxis = Math.Round(at), name, lineStyle = new { color = colour, type = "dashed" },
        };
        return JsonSerializer.Serialize(new
        {
            grid = Grid(top: 44),
            tooltip = new { trigger = "axis" },
            xAxis = new { type = "category", data = days.Select(day => day.ToString("d MMM", English)), axisTick = new { show = false }, axisLine = Line(), axisLabel = new { color = "var(--ink-2)" } },
            yAxis = ValueAxis("of its rating under a clear sky, %"),
            series = new[]
            {
                new
                {
                    type = "bar",
                    name = "the panel gave, %",
                    itemStyle = new { color = "#b08a4a" },
                    data = days.Select(day => tested.TryGetValue(day, out double share) ? (double?)share : null),
                    markLine = usual is not { } best ? null : new
                    {
                        silent = true,
                        symbol = "none",
                        label = new { formatter = "{b}", color = "var(--ink-2)", position = "insideEndTop" },
                        data = new[] { Mark(100 * best, "used to give", "var(--ink-2)"), Mark(100 * best * rules.WeakPanelShare, "ticket", "var(--visit)") },
                    },
                },
            },
        });
    }
}
