using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Trials;

public sealed class TrialComparisonTests
{
    private static readonly DateTimeOffset Start = new(2026, 6, 1, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Of_pairs_tickets_of_the_same_rule_and_part_that_were_open_together()
    {
        TrialComparison comparison = TrialComparison.Of(
            [Ticket(Rule.TankFilling, 50, 60), Ticket(Rule.LowCharge, 100, 110), Ticket(Rule.IdleTool, 200, 300, "brush")],
            [Ticket(Rule.TankFilling, 2, 60), Ticket(Rule.LowCharge, 112, 120), Ticket(Rule.IdleTool, 210, 300, "wrench")]);

        comparison.Pairs.Select(pair => (pair.Rule, pair.Part, pair.Today is not null, pair.New is not null)).Should().Equal(
            (Rule.TankFilling, "", true, true),
            (Rule.LowCharge, "", true, false),
            (Rule.LowCharge, "", false, true),
            (Rule.IdleTool, "brush", true, false),
            (Rule.IdleTool, "wrench", false, true));
        comparison.Pairs[0].Earlier.Should().Be(TimeSpan.FromHours(48));
        (comparison.Today, comparison.New).Should().Be((3, 3));
    }

    [Fact]
    public void Of_tells_a_ticket_that_falls_within_an_open_one_from_one_that_is_missing()
    {
        TrialComparison comparison = TrialComparison.Of(
            [Ticket(Rule.TankFilling, 10, 20), Ticket(Rule.TankFilling, 30, 40), Ticket(Rule.TankFilling, 60, 70)], [Ticket(Rule.TankFilling, 10, 50)]);

        comparison.Pairs.Select(pair => pair.IsWithin).Should().Equal(false, true, false);
        TrialWords.Headline(comparison, isSoFar: false).Should().Be(
            "With the new limits the season would have brought 1 ticket instead of 3: one not raised, one not raised since one was still open.");
    }

    [Fact]
    public void Headline_tells_what_is_found_earlier_and_later_and_what_is_not_raised()
    {
        TrialComparison comparison = TrialComparison.Of(
            [Ticket(Rule.TankFilling, 50, 60), Ticket(Rule.LowCharge, 100, 130), .. Enumerable.Range(0, 3).Select(i => Ticket(Rule.IdleTool, 200 + (20 * i), 210 + (20 * i), "brush"))],
            [Ticket(Rule.TankFilling, 2, 60), Ticket(Rule.LowCharge, 105, 130)]);

        TrialWords.Headline(comparison, isSoFar: true).Should().Be(
            "With the new limits the season so far would have brought 2 tickets instead of 5: one found 2 days earlier, one found 5 hours later, three not raised.");
        comparison.Pairs.Select(TrialWords.Which).Should().StartWith(
            ["both, 2 days earlier with the new limits", "both, 5 hours later with the new limits", "only with today's limits"]);
    }

    [Fact]
    public void Headline_gives_the_range_when_several_are_found_earlier()
    {
        TrialComparison comparison = TrialComparison.Of(
            [Ticket(Rule.TankFilling, 50, 60), Ticket(Rule.TankFilling, 100, 130), Ticket(Rule.LowCharge, 100, 130)],
            [Ticket(Rule.TankFilling, 2, 60), Ticket(Rule.TankFilling, 97, 130), Ticket(Rule.LowCharge, 99.5, 130), Ticket(Rule.LowCharge, 200, 210)]);

        TrialWords.Headline(comparison, isSoFar: false).Should().Be(
            "With the new limits the season would have brought 4 tickets instead of 3: two found 3 hours to 2 days earlier, one that today's limits would not have raised.");
    }

    [Fact]
    public void Headline_says_when_there_is_no_difference_and_when_there_is_no_ticket()
    {
        PastTicket ticket = Ticket(Rule.TankFilling, 50, 60);

        TrialWords.Headline(TrialComparison.Of([], []), isSoFar: true).Should().Be("Neither would have raised a ticket in the season so far.");
        TrialWords.Headline(TrialComparison.Of([ticket], [ticket]), isSoFar: false).Should().Be(
            "With the new limits the season would have brought the same ticket, within the same hour.");
    }

    private static PastTicket Ticket(Rule rule, double raisedHour, double closedHour, string part = "") => new()
    {
        Station = "COP-1",
        Rule = rule,
        Part = part,
        Raised = Start.AddHours(raisedHour),
        Closed = Start.AddHours(closedHour),
        RaisedWith = new LowChargeEvidence(0.4, 0.5),
        Evidence = new LowChargeEvidence(0.4, 0.5),
    };
}
