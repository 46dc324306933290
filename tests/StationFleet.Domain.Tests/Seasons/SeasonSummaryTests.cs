using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Seasons;

public sealed class SeasonSummaryTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");
    private static readonly Season Season = new(2026, new DateOnly(2026, 5, 1), new DateOnly(2026, 10, 15));
    private static readonly DateTimeOffset May1 = new(2026, 5, 1, 0, 0, 0, TimeSpan.FromHours(-6));
    private static readonly DateTimeOffset After = new(2027, 1, 1, 0, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Days_in_service_leave_out_every_quiet_time_once()
    {
        SeasonStation station = Station(quiet:
        [
            new(QuietReason.Winterized, May1.AddDays(-100), May1.AddDays(10)),
            new(QuietReason.AccessClosed, May1.AddDays(20), May1.AddDays(24)),
            new(QuietReason.InTransit, May1.AddDays(22), May1.AddDays(26)),
            new(QuietReason.Winterized, May1.AddDays(100), null),
        ]);

        Summary(station).Fleet.DaysInService.Should().Be(100 - 10 - 6);
    }

    [Fact]
    public void Days_in_service_begin_when_the_station_does_and_end_now()
    {
        SeasonStation station = Station(created: May1.AddDays(3));

        SeasonSummary summary = SeasonSummary.Of(new SeasonInput(Season, May1.AddDays(4.5), [station]));

        summary.Fleet.DaysInService.Should().Be(1.5);
        summary.IsRunning.Should().BeTrue();
    }

    [Fact]
    public void Coverage_counts_no_more_hours_of_a_day_than_were_required_on_it()
    {
        SeasonStation station = Station(
            quiet: [new(QuietReason.Winterized, May1.AddHours(36), null)],
            reporting: [new(new DateOnly(2026, 5, 1), 12), new(new DateOnly(2026, 5, 2), 20), new(new DateOnly(2026, 5, 3), 24)]);

        SeasonFigures figures = Summary(station).Fleet;

        figures.HoursWithData.Should().Be(12 + 12, "the second day required 12 hours and the third none");
        figures.ReportingCoverage.Should().BeApproximately(24.0 / 36, 1e-12);
    }

    [Fact]
    public void Uses_add_their_three_parts_by_tool_and_month_and_say_how_much_is_uncertain()
    {
        SeasonStation station = Station(uses:
        [
            new("brush", new DateOnly(2026, 4, 30), 99, 0, 0, 0),
            new("brush", new DateOnly(2026, 5, 1), 10, 2, 3, 0),
            new("brush", new DateOnly(2026, 5, 31), 5, 0, 0, 1),
            new("brush", new DateOnly(2026, 6, 1), 7, 0, 40, 0),
            new("hose", new DateOnly(2026, 6, 2), 1, 0, 0, 0),
        ]);

        SeasonSummary summary = Summary(station);

        summary.Stations.Single().Months.Should().Equal(
            new ToolMonth("brush", "Hull brush", ToolKind.Brush, new DateOnly(2026, 5, 1), 20, 3, 1),
            new ToolMonth("brush", "Hull brush", ToolKind.Brush, new DateOnly(2026, 6, 1), 47, 40, 0),
            new ToolMonth("hose", "hose", ToolKind.Other, new DateOnly(2026, 6, 1), 1, 0, 0));
        summary.Fleet.Uses.Should().Be(68);
        summary.Fleet.UsesOnUncertainDay.Should().Be(43);
        summary.Fleet.Restarts.Should().Be(1);
    }

    [Fact]
    public void Weeks_start_on_Monday_and_a_week_without_data_has_no_number()
    {
        SeasonStation station = Station(uses:
        [
            new("brush", new DateOnly(2026, 5, 3), 1, 0, 0, 0), new("brush", new DateOnly(2026, 5, 4), 2, 0, 0, 0),
            new("brush", new DateOnly(2026, 5, 18), 4, 0, 0, 0),
        ]);

        Summary(station).Weeks.Select(week => (week.Monday, week.Uses, week.ByKind.GetValueOrDefault(ToolKind.Brush))).Should().Equal(
            (new DateOnly(2026, 4, 27), 1, 1), (new DateOnly(2026, 5, 4), 2, 2), (new DateOnly(2026, 5, 11), null, 0), (new DateOnly(2026, 5, 18), 4, 4));
    }

    [Fact]
    public void Tickets_carried_in_and_raised_are_either_closed_or_open()
    {
        SeasonFigures figures = Summary(Station(tickets:
        [
            Ticket(1, -10, doneDay: -5), Ticket(2, -10, doneDay: 4), Ticket(3, 1, doneDay: 2), Ticket(4, 5, doneDay: 8),
            Ticket(5, 20, doneDay: 200), Ticket(6, 30, doneDay: null), Ticket(7, 190, doneDay: null),
        ])).Fleet;

        (figures.TicketsRaised, figures.TicketsClosed, figures.TicketsOpen).Should().Be((4, 3, 2));
        figures.MedianTimeToClose.Should().Be(TimeSpan.FromDays(3), "the closed ones took 14, 1 and 3 days");
    }

    [Fact]
    public void Availability_counts_a_station_down_once_and_only_while_it_was_required()
    {
        SeasonFigures figures = Summary(Station(
            quiet: [new(QuietReason.AccessClosed, May1.AddDays(14), May1.AddDays(24)), new(QuietReason.Winterized, May1.AddDays(110), null)],
            tickets: [Ticket(1, 10, doneDay: 16), Ticket(2, 12, doneDay: 13), Ticket(3, 50, doneDay: 56, work: TimeSpan.FromHours(2))])).Fleet;

        figures.Availability.RequiredTime.TotalDays.Should().Be(100);
        figures.Availability.DownTime.TotalDays.Should().Be(4 + 6);
        figures.Availability.Share.Should().BeApproximately(0.9, 1e-12);
        figures.Availability.Failures.Should().Be(2);
        figures.Availability.MeanTimeToRestoration.Should().Be(TimeSpan.FromDays(5));
        figures.Availability.MeanActiveRepair.Should().Be(TimeSpan.FromHours(2));
    }

    [Fact]
    public void Litres_in_the_tank_come_from_its_newest_reading_of_the_season()
    {
        SeasonStation station = Station() with { Tank = new TankReading(MeasurementName.TankFill, May1.AddDays(30), 0.5) };
        SeasonStation stale = Station() with { Tank = new TankReading(MeasurementName.TankFill, May1.AddDays(-1), 0.5) };

        Summary(station, stale).Fleet.LitresInTank.Should().BeApproximately(104, 1e-9);
        Summary(stale).Fleet.LitresInTank.Should().BeNull();
    }

    [Fact]
    public void A_tank_period_that_straddles_an_edge_is_split_by_inflow()
    {
        DateOnly edge = new(2026, 7, 1);
        DateTimeOffset july1 = new(2026, 7, 1, 0, 0, 0, TimeSpan.FromHours(-6));
        SeasonStation station = Station() with
        {
            // Filled from empty over June, held 80 L when the fiscal year changed, was emptied at 150 L on 12 July, and holds 20 L at last.
            TankDays = [Held(May1.AddDays(1), 0), Held(july1.AddHours(-1), 80), Held(july1.AddDays(11), 150), Held(july1.AddDays(30), 20)],
            Tank = Held(july1.AddDays(30), 20),
            PumpOuts = [new(july1.AddDays(11.5), 150, true)],
        };
        SeasonStation before = station with { Tank = Held(july1.AddHours(-1), 80) };

        SeasonFigures whole = Of(station, new DateOnly(2026, 5, 1), new DateOnly(2026, 8, 15));
        SeasonFigures older = Of(before, new DateOnly(2026, 5, 1), edge.AddDays(-1));
        SeasonFigures newer = Of(station, edge, new DateOnly(2026, 8, 15));

        (older.LitresPumpedOut, newer.LitresPumpedOut).Should().Be((0, 150), "a pump-out stands whole on its day");
        older.LitresTakenIn.Should().BeApproximately(80, 1e-9);
        newer.LitresTakenIn.Should().BeApproximately(90, 1e-9);
        whole.LitresTakenIn.Should().BeApproximately(older.LitresTakenIn + newer.LitresTakenIn, 1e-9, "nothing is lost at the edge, nor counted twice");

        static TankReading Held(DateTimeOffset at, double litres) => new(MeasurementName.TankFill, at, litres / 208);

        static SeasonFigures Of(SeasonStation station, DateOnly from, DateOnly to) =>
            SeasonSummary.Of(new SeasonInput(Season.Range(from, to), After, [station])).Fleet;
    }

    [Fact]
    public void Service_stretches_cut_the_season_without_gaps_and_add_up_to_the_figures()
    {
        SeasonSummary summary = Summary(Station(
            quiet: [new(QuietReason.AccessClosed, May1.AddDays(14), May1.AddDays(24)), new(QuietReason.Winterized, May1.AddDays(110), null)],
            tickets: [Ticket(1, 10, doneDay: 16), Ticket(2, 12, doneDay: 13)]));

        IReadOnlyList<ServiceStretch> stretches = summary.Stations[0].Service;

        stretches.Select(stretch => stretch.State).Should().Equal(
            ServiceState.Up, ServiceState.Down, ServiceState.NotRequired, ServiceState.Up, ServiceState.NotRequired);
        stretches.Zip(stretches.Skip(1)).Should().OnlyContain(pair => pair.First.Span.End == pair.Second.Span.Start);
        Days(ServiceState.Down).Should().Be(summary.Fleet.Availability.DownTime.TotalDays);
        (Days(ServiceState.Down) + Days(ServiceState.Up)).Should().Be(summary.Fleet.DaysInService);

        double Days(ServiceState state) => stretches.Where(stretch => stretch.State == state).Sum(stretch => (stretch.Span.End - stretch.Span.Start).TotalDays);
    }

    [Fact]
    public void Cost_adds_what_each_station_and_no_station_was_booked_for_and_is_divided_by_sessions()
    {
        SeasonStation one = Station() with { Cost = Money.Of(300), UseHours = [new(new DateOnly(2026, 5, 1), 9), new(new DateOnly(2026, 4, 30), 99)] };
        SeasonStation other = Station() with { Visits = [new(May1.AddDays(2), TimeSpan.FromMinutes(45)), new(May1.AddDays(3), null), new(May1.AddDays(-3), null)] };

        SeasonSummary summary = SeasonSummary.Of(new SeasonInput(Season, After, [one, other]) { SharedCost = Money.Of(60) });

        summary.Stations.Select(station => station.Figures.Cost).Should().Equal(Money.Of(300), null);
        summary.Fleet.Cost.Should().Be(Money.Of(360));
        summary.Fleet.UseSessions.Should().Be(9);
        summary.Fleet.CostPerSession.Should().Be(40);
        (summary.Fleet.Visits, summary.Fleet.VisitTime).Should().Be((2, TimeSpan.FromMinutes(45)));
    }

    [Fact]
    public void The_data_behind_a_season_are_told_by_station()
    {
        SeasonStation station = Station(
            quiet: [new(QuietReason.Winterized, May1.AddDays(10), null)],
            uses: [new("brush", new DateOnly(2026, 5, 9), 5, 0, 7, 1)],
            reporting: [.. Enumerable.Range(1, 10).Where(day => day is < 4 or > 6).Select(day => new ReportingDay(new DateOnly(2026, 5, day), 24))]) with
        {
            PumpOuts = [new(May1.AddDays(5), 100, false)],
        };
        SeasonSummary summary = Summary(station);

        IReadOnlyList<StationNotes> told = SeasonQuality.Of(summary, new Dictionary<StationId, int> { [new StationId(1)] = 2 });

        told.Should().ContainSingle().Which.Sentences.Should().Equal(
            "No data at all on 4 May to 6 May.",
            "72 of 240 required hours have no data.",
            "7 uses were counted over several days and stand on the last of them.",
            "Counters began again one time: uses may be missing.",
            "One pump-out is known only as a person wrote the volume down; removal figures assume it right to a tenth.",
            "Two records that came in on these days could not be counted and are set aside.");
    }

    [Fact]
    public void A_change_is_more_than_noise_only_where_chance_would_seldom_do_as_much()
    {
        SeasonSummary now = Summary(Station(uses: Weeks(200), tickets: [.. Enumerable.Range(1, 12).Select(number => Ticket(number, number * 5, number * 5 + 1))]));
        SeasonSummary then = Summary(Station(uses: Weeks(100), tickets: [Ticket(1, 5, 6), Ticket(2, 9, 10)]));
        SeasonSummary like = Summary(Station(uses: Weeks(201), tickets: [.. Enumerable.Range(1, 9).Select(number => Ticket(number, number * 5, number * 5 + 1))]));

        Dictionary<string, FigureChange> changed = SeasonComparison.Of(now, then).ToDictionary(change => change.Definition.Key);
        Dictionary<string, FigureChange> same = SeasonComparison.Of(now, like).ToDictionary(change => change.Definition.Key);

        changed["uses"].Verdict.Should().Be(ChangeVerdict.MoreThanNoise);
        changed["uses"].Share.Should().BeApproximately(1, 0.1);
        changed["tickets_raised"].Verdict.Should().Be(ChangeVerdict.MoreThanNoise, "12 against 2");
        changed["availability"].Verdict.Should().Be(ChangeVerdict.NotTested);
        same["uses"].Verdict.Should().Be(ChangeVerdict.WithinNoise);
        same["tickets_raised"].Verdict.Should().Be(ChangeVerdict.WithinNoise, "12 against 9");

        static ToolUsesDay[] Weeks(double each) =>
            [.. Enumerable.Range(0, 20).Select(week => new ToolUsesDay("brush", new DateOnly(2026, 5, 4).AddDays(7 * week), each + (3 * (week % 7)), 0, 0, 0))];
    }

    [Fact]
    public void The_fleet_adds_its_stations_and_takes_the_median_over_all_tickets()
    {
        SeasonStation one = Station(tickets: [Ticket(1, 1, doneDay: 2), Ticket(2, 5, doneDay: 6)]);
        SeasonStation other = Station(tickets: [Ticket(3, 1, doneDay: 8)]) with { PumpOuts = [new(May1.AddDays(9), 150, true)] };

        SeasonSummary summary = Summary(one, other);

        summary.Fleet.TicketsClosed.Should().Be(3);
        summary.Fleet.MedianTimeToClose.Should().Be(TimeSpan.FromDays(1));
        summary.Fleet.LitresPumpedOut.Should().Be(150);
        summary.Fleet.DaysInService.Should().Be(2 * 168);
    }

    [Fact]
    public void A_season_that_has_not_begun_has_no_figures_and_says_so()
    {
        SeasonSummary summary = SeasonSummary.Of(new SeasonInput(Season, May1.AddDays(-1), [Station(tickets: [Ticket(1, -5, doneDay: null)])]));

        summary.Fleet.Availability.Share.Should().BeNull();
        summary.Fleet.ReportingCoverage.Should().BeNull();
        SeasonWords.Headline(summary, UnitSystem.Metric).Should().Be("No station was in service in the season 2026.");
    }

    [Fact]
    public void The_sentences_lead_with_the_main_figures()
    {
        SeasonStation station = Station(
            quiet: [new(QuietReason.Winterized, May1.AddDays(100), null)],
            uses: [new("brush", new DateOnly(2026, 5, 1), 1200, 0, 34, 0)],
            reporting: [.. Enumerable.Range(0, 90).Select(day => new ReportingDay(Season.FirstDay.AddDays(day), 24))],
            tickets: [Ticket(1, 10, doneDay: 11), Ticket(2, 20, doneDay: 29)]) with { PumpOuts = [new(May1.AddDays(9), 200, true)] };

        SeasonSummary summary = Summary(station);

        SeasonWords.Headline(summary, UnitSystem.UsCustomary)
            .Should().Be("COP-1 was available 90.0 % of the time; 1,234 tool uses, 53 gal pumped out.");
        SeasonWords.Backing(summary).Should().Be(
            "The data cover 90.0 % of 100 station days in service; 34 uses stand on an uncertain day. "
            + "2 tickets were raised, 2 closed, half of these within 5 d; 0 are still open.");
    }

    [Fact]
    public void Every_figure_has_a_definition_of_its_own()
    {
        SeasonDefinitions.All.Should().OnlyHaveUniqueItems(figure => figure.Key);
        Summary(Station()).Fleet.Listed.Select(figure => figure.Definition).Should().Equal(SeasonDefinitions.All);
        SeasonDefinitions.All.Should().OnlyContain(figure => figure.Definition.Length > 20 && figure.Source.Length > 5);
    }

    [Theory]
    [InlineData(0.99999, "99.9 %")]
    [InlineData(1.0, "100.0 %")]
    [InlineData(0.5, "50.0 %")]
    [InlineData(null, "–")]
    public void A_share_below_one_never_reads_as_all(double? share, string words) => SeasonWords.Percent(share).Should().Be(words);

    private static SeasonSummary Summary(params SeasonStation[] stations) => SeasonSummary.Of(new SeasonInput(Season, After, stations));

    private static SeasonStation Station(
        DateTimeOffset? created = null,
        IReadOnlyList<QuietPeriod>? quiet = null,
        IReadOnlyList<ToolUsesDay>? uses = null,
        IReadOnlyList<ReportingDay>? reporting = null,
        IReadOnlyList<TicketRecord>? tickets = null) => new(
            new StationId(1), "Dam Road access", new StationSetup(
                "COP-1", Boise, created ?? May1.AddYears(-1), TimeSpan.FromMinutes(15),
                [new ToolSetup("brush", ToolKind.Brush, "Hull brush", May1.AddYears(-1), null)],
                TankHistory.Of(new TankSetup(208)), null, RuleSettings.Default, quiet ?? []),
            uses ?? [], reporting ?? [], null, [], tickets ?? []);

    private static TicketRecord Ticket(int number, double raisedDay, double? doneDay, TimeSpan? work = null) => new(
        number, Rule.IdleTool, "brush", May1.AddDays(raisedDay), doneDay is { } day ? May1.AddDays(day) : null,
        doneDay is null ? null : TicketOutcome.Fixed, work,
        doneDay is { } closed ? [new TicketHappening(May1.AddDays(closed).AddHours(3), TicketEventKind.Closed)] : []);
}
