using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Tests.Seasons;

/// <summary>A small invented season with something in every table.</summary>
internal static class SampleSeason
{
    public static readonly DateTimeOffset May1 = new(2026, 5, 1, 0, 0, 0, TimeSpan.FromHours(-6));

    public static readonly ReportFrame Frame = new(
        "Season 2026, 1 May to 15 October", "Juniper Basin Watershed District & friends", ["One sentence.", "And another."], IsInvented: true);

    public static SeasonSummary Summary(string toolName = "Hull brush") => SeasonSummary.Of(Input(toolName, 2026));

    /// <summary>The season with a year before, samples of two waters (one month without a sample), a find that nobody may tell, and notes on its data.</summary>
    public static SeasonReport Report(string toolName = "Hull brush")
    {
        SeasonInput input = Input(toolName, 2026);
        SeasonSummary before = SeasonSummary.Of(Input(toolName, 2025));
        IReadOnlyList<SeasonRemoval> removals = SeasonRemovals.Of(input, Periods(2026, 40), MayTell);
        SeasonSummary summary = SeasonSummary.Of(input);
        return new SeasonReport(summary)
        {
            Before = before,
            Changes = [.. SeasonComparison.Of(summary, before), .. SeasonComparison.Of(removals, SeasonRemovals.Of(Input(toolName, 2025), Periods(2025, 1), MayTell))],
            Removals = removals,
            Quality = SeasonQuality.Of(summary, new Dictionary<StationId, int> { [new StationId(1)] = 3 }),
            Shared = "Jointly funded: the figures of COP-1 in A-1 and A-2. Do not add them up over awards.",
        };
    }

    private static bool MayTell(Organism organism, string water, DateOnly day, bool isFound) => organism.Taxon != "Secret snail";

    private static IReadOnlyList<PlacedPeriod> Periods(int year, int each) =>
    [
        .. Enumerable.Range(0, 10).Select(number => Period(year, new DateOnly(year, 5, 3).AddDays(5 * number), number is 3 or > 5 ? null : each + number)),
    ];

    private static PlacedPeriod Period(int year, DateOnly from, int? counted)
    {
        DateTimeOffset since = new(from, TimeOnly.MinValue, TimeSpan.FromHours(-6));
        DateOnly to = from.AddDays(4);
        TankPeriod period = new(
            $"COP-1 {to:yyyy-MM-dd}", "COP-1", from, to, new CollectedWater(180, 5, 0),
            counted is { } count
                ? [new Grab($"G{from:MMdd}", 1, 100, [new Aliquot(100, [new OrganismCount("Quagga mussel", count, "veliger"), new OrganismCount("Spiny waterflea", 0), new OrganismCount("Secret snail", 3)])])]
                : [],
            []);
        return new PlacedPeriod(period, new TankWater(since, since.AddDays(4), 180), "Copperline Reservoir", []);
    }

    private static SeasonInput Input(string toolName, int year) => new(
        new Season(year, new DateOnly(year, 5, 1), new DateOnly(year, 10, 15)), May1.AddYears(year - 2026).AddDays(60),
        [Station("COP-1", toolName, 1), Station("OTT-1", "Boot brush", 2)]);

    private static SeasonStation Station(string code, string toolName, int number) => new(
        new StationId(number), "Dam Road access, Copperline Reservoir",
        new StationSetup(
            code, TimeZoneInfo.FindSystemTimeZoneById("America/Boise"), May1.AddYears(-1), TimeSpan.FromMinutes(15),
            [
                new ToolSetup("brush", ToolKind.Brush, toolName, May1.AddYears(-1), null),
                new ToolSetup("wrench", ToolKind.Wrench, "Drain-plug wrench", May1.AddYears(-1), null),
            ],
            TankHistory.Of(new TankSetup(208)), null, RuleSettings.Default,
            [new QuietPeriod(QuietReason.AccessClosed, May1.AddDays(10), May1.AddDays(12))]),
        [
            new ToolUsesDay("brush", new DateOnly(2026, 5, 3), 1_200, 3, 0, 0),
            new ToolUsesDay("brush", new DateOnly(2026, 6, 3), 700 * number, 0, 40, 1),
            new ToolUsesDay("wrench", new DateOnly(2026, 6, 3), 12, 0, 0, 0),
        ],
        [.. Enumerable.Range(0, 60).Select(day => new ReportingDay(new DateOnly(2026, 5, 1).AddDays(day), 23))],
        new TankReading(MeasurementName.TankFill, May1.AddDays(59), 0.25),
        [new PumpOutRecord(May1.AddDays(30.5), 181.7, true)],
        [
            new TicketRecord(
                10 + number, Rule.IdleTool, "brush", May1.AddDays(20), May1.AddDays(21.25), TicketOutcome.Fixed, TimeSpan.FromMinutes(45),
                [new TicketHappening(May1.AddDays(21.3), TicketEventKind.Closed)]),
            new TicketRecord(20 + number, Rule.TankFilling, "", May1.AddDays(58), null, null, null, []),
        ]);
}
