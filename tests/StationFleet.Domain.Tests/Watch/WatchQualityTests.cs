using StationFleet.Domain.Seasons;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class WatchQualityTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    // 1 June 2026, midnight in Boise.
    private static readonly DateTimeOffset From = new(2026, 6, 1, 6, 0, 0, TimeSpan.Zero);

    private static readonly UtcInterval FiveWeeks = new(From, From.AddDays(35));

    [Fact]
    [Source("This project's translation of ANSI/ISA-18.2-2016's load figures to drives; no published source")]
    public void Thirty_field_hours_forty_percent_unplanned_and_two_and_a_half_hours_a_visit_allow_4_8_visits_a_week()
    {
        FieldBudget budget = new(Technicians: 1, FieldHoursPerWeek: 30, UnplannedShare: 0.4, HoursPerVisit: 2.5);

        budget.VisitsPerWeek.Should().BeApproximately(4.8, 1e-12);
        budget.MostPerWeek.Should().BeApproximately(9.6, 1e-12);
    }

    [Theory]
    [Source("The ratio 1 : 2 of acceptable to just manageable alarms as quoted of ANSI/ISA-18.2-2016")]
    [InlineData(4.8, WatchLoad.Within)]
    [InlineData(4.9, WatchLoad.Over)]
    [InlineData(9.6, WatchLoad.Over)]
    [InlineData(9.7, WatchLoad.TooMuch)]
    public void The_budget_itself_is_within_it_and_twice_the_budget_can_just_be_managed(double perWeek, WatchLoad load) =>
        new FieldBudget().Judge(perWeek).Should().Be(load);

    [Fact]
    public void Tickets_are_counted_per_week_and_technician_by_the_time_they_were_raised_in_the_period()
    {
        // 31 in 5 weeks and 2 technicians: 3.1. The one before and the one after don't count.
        TicketLife[] tickets =
        [
            Ticket(-1), Ticket(35),
            .. Enumerable.Range(0, 31).Select(n => Ticket(n, station: $"ST-{n}", done: n + 2, outcome: n < 4 ? TicketOutcome.NothingWrong : TicketOutcome.Fixed)),
        ];

        WatchQuality quality = WatchQuality.Of(tickets, FiveWeeks, Boise, new FieldBudget(Technicians: 2));

        quality.Raised.Should().Be(31);
        quality.PerTechnicianWeek.Should().BeApproximately(3.1, 1e-12);
        quality.Load.Should().Be(WatchLoad.Within);
        (quality.NothingWrong, quality.LookedAt).Should().Be((4, 31));
        WatchFigure.Headline(quality).Should().Be(
            "The watch asked for 3.1 visits per technician-week, within the budget of 4.8; four of 31 were for nothing.");
    }

    [Theory]
    [InlineData(0, 0, "nobody has looked at one yet")]
    [InlineData(0, 3, "none of the three that somebody looked at was for nothing")]
    [InlineData(1, 8, "one in eight was for nothing")]
    [InlineData(2, 16, "one in eight was for nothing")]
    [InlineData(3, 7, "three of seven were for nothing")]
    [InlineData(1, 1, "the one that somebody looked at was for nothing")]
    public void The_headline_says_how_many_visits_were_for_nothing(int nothing, int looked, string words)
    {
        TicketLife[] tickets =
        [
            Ticket(30, station: "OPEN"),
            .. Enumerable.Range(0, looked).Select(n => Ticket(
                n, station: $"ST-{n}", done: n + 1, outcome: n < nothing ? TicketOutcome.NothingWrong : TicketOutcome.Fixed)),
        ];

        WatchFigure.Headline(Judge(tickets)).Should().EndWith($"; {words}.");
    }

    [Fact]
    public void Only_who_looked_can_have_found_nothing_wrong()
    {
        WatchQuality quality = Judge(
            Ticket(1, "A", done: 2, outcome: TicketOutcome.NotDone), Ticket(1, "B", done: 2, outcome: TicketOutcome.ClearedByItself),
            Ticket(1, "C", done: 2, outcome: TicketOutcome.NothingWrong), Ticket(-5, "D", done: 3, outcome: TicketOutcome.Fixed),
            Ticket(1, "E", done: 40, outcome: TicketOutcome.NothingWrong));

        (quality.NothingWrong, quality.LookedAt, quality.NotDone, quality.ClearedByItself).Should().Be(
            (1, 2, 1, 1), "a ticket counts when it was closed in the period, whenever it was raised");
        Figure(quality, "nothing_wrong_share").IsMet.Should().BeFalse();
    }

    [Fact]
    public void One_in_ten_for_nothing_is_too_much_and_fewer_is_not()
    {
        Figure(Judge(Looked(nothing: 1, of: 10)), "nothing_wrong_share").IsMet.Should().BeFalse();
        Figure(Judge(Looked(nothing: 1, of: 11)), "nothing_wrong_share").IsMet.Should().BeTrue();
        Figure(Judge(Ticket(1)), "nothing_wrong_share").IsMet.Should().BeNull("nobody has looked yet");
    }

    [Fact]
    public void Pairs_that_raised_more_than_one_ticket_are_repeat_offenders_and_thirty_percent_of_all_is_the_most()
    {
        TicketLife[] singles = [.. Enumerable.Range(0, 7).Select(n => Ticket(n, $"ST-{n}"))];
        TicketLife[] wrench = [.. Enumerable.Range(0, 3).Select(n => Ticket(n * 10, "COP-1", part: "wrench", done: (n * 10) + 1, outcome: TicketOutcome.Fixed))];
        TicketLife brush = Ticket(2, "COP-1", part: "brush");

        WatchQuality atMost = Judge([.. singles, .. wrench]);
        WatchQuality over = Judge([.. singles[1..], .. wrench]);
        WatchQuality none = Judge([.. singles, brush]);

        atMost.Offenders.Should().Equal(new RepeatOffender("COP-1", Rule.IdleTool, "wrench", 3));
        atMost.OffenderShare.Should().BeApproximately(0.3, 1e-12);
        Figure(atMost, "offender_share").IsMet.Should().BeTrue();
        Figure(over, "offender_share").IsMet.Should().BeFalse();
        none.Offenders.Should().BeEmpty("another tool of the same station is another pair");
    }

    [Fact]
    public void A_ticket_at_most_seven_days_after_closing_is_a_repeat_and_so_is_a_reopened_one()
    {
        TicketLife first = Ticket(-3, "COP-1", done: -1, outcome: TicketOutcome.Fixed, number: 1);
        TicketLife soon = Ticket(6, "COP-1", done: 8, outcome: TicketOutcome.Fixed, number: 2);
        TicketLife late = Ticket(15.5, "COP-1", number: 3);
        TicketLife reopened = TicketLife.Of("OTT-1", new TicketRecord(
            4, Rule.LowCharge, "", From.AddDays(1), null, null, null,
            [
                new TicketHappening(From.AddDays(1), TicketEventKind.Raised), new TicketHappening(From.AddDays(1.5), TicketEventKind.Taken),
                new TicketHappening(From.AddDays(2), TicketEventKind.Closed), new TicketHappening(From.AddDays(3), TicketEventKind.Reopened),
            ]));

        WatchQuality quality = Judge(first, soon, late, reopened);

        quality.Repeats.Select(repeat => repeat.Number).Should().BeEquivalentTo([2, 4]);
        quality.Raised.Should().Be(4, "reopening asks for a visit again");
        quality.MedianToTake.Should().Be(TimeSpan.FromDays(0.5));
    }

    [Fact]
    public void What_is_open_for_longer_than_its_limit_is_stale_unless_it_is_snoozed()
    {
        WatchQuality quality = Judge(
            Ticket(20, "A", number: 1), Ticket(21, "B", number: 2), Ticket(-40, "C", number: 3),
            Ticket(1, "D", number: 4, snoozedUntil: FiveWeeks.End.AddDays(1)), Ticket(1, "E", number: 5, done: 3, outcome: TicketOutcome.Fixed));

        quality.Stale.Select(stale => stale.Number).Should().Equal(3, 1);
        Figure(quality, "stale").IsMet.Should().BeFalse("two are too many");
        Figure(Judge(Ticket(20)), "stale").IsMet.Should().BeTrue("one may be");
    }

    [Fact]
    public void A_day_with_more_tickets_than_a_technician_can_do_in_a_week_is_a_flood_by_the_local_calendar()
    {
        // Five late on 10 June in Boise; in UTC the last two fall on the 11th.
        TicketLife[] tickets = [.. Enumerable.Range(0, 5).Select(n => Ticket(9.5 + (n * 0.1), $"ST-{n}"))];

        Judge(tickets).Floods.Should().Equal(new FloodDay(new DateOnly(2026, 6, 10), 5));
        Judge(tickets[1..]).Floods.Should().BeEmpty("four are within 4.8");
    }

    [Fact]
    public void A_period_without_tickets_has_no_shares_and_says_so()
    {
        WatchQuality quality = Judge();

        WatchFigure.Headline(quality).Should().Be("The watch asked for no visit.");
        (quality.NothingWrongShare, quality.OffenderShare, quality.PerTechnicianWeek).Should().Be((null, null, 0.0));
        WatchFigure.Of(quality).Should().OnlyContain(figure => figure.IsMet != false && figure.Definition.EndsWith('.'));
    }

    private static WatchQuality Judge(params IReadOnlyList<TicketLife> tickets) => WatchQuality.Of(tickets, FiveWeeks, Boise, new FieldBudget());

    private static WatchFigure Figure(WatchQuality quality, string key) => WatchFigure.Of(quality).Single(figure => figure.Key == key);

    private static TicketLife[] Looked(int nothing, int of) =>
        [.. Enumerable.Range(0, of).Select(n => Ticket(1, $"ST-{n}", done: 2, outcome: n < nothing ? TicketOutcome.NothingWrong : TicketOutcome.Fixed))];

    private static TicketLife Ticket(
        double day, string station = "COP-1", string part = "", double? done = null, TicketOutcome? outcome = null, int number = 1,
        DateTimeOffset? snoozedUntil = null) => TicketLife.Of(
            station,
            new TicketRecord(
                number, Rule.IdleTool, part, From.AddDays(day), done is { } closed ? From.AddDays(closed) : null, outcome, null,
                done is { } at ? [new TicketHappening(From.AddDays(at), TicketEventKind.Closed)] : []),
            snoozedUntil);
}
