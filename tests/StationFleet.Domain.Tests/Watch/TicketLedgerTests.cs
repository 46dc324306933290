using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class TicketLedgerTests
{
    private static readonly DateTimeOffset Monday = new(2026, 6, 1, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_problem_raises_one_ticket_however_often_it_is_judged()
    {
        TicketLedger ledger = Ledger();

        ledger.Decide(Step(0, Tank(0, 0.81))).Should().Equal(new TicketCommand.Raise(Monday, -1, Tank(0, 0.81)));
        ledger.Decide(Step(1, Tank(0, 0.81))).Should().BeEmpty();
        ledger.Decide(Step(2, Tank(0, 0.83))).Should().Equal(new TicketCommand.UpdateEvidence(At(2), -1, Tank(0, 0.83).Evidence));
    }

    [Fact]
    public void Tickets_differ_by_rule_and_part()
    {
        TicketLedger ledger = Ledger();

        IReadOnlyList<TicketCommand> commands = ledger.Decide(Step(0, Tank(0, 0.81), Idle("brush", 0, 20), Idle("wrench", 0, 25)));

        commands.Should().AllBeOfType<TicketCommand.Raise>().And.HaveCount(3);
        commands.Select(command => command.Ref).Should().OnlyHaveUniqueItems();
    }

    [Fact]
    public void A_problem_that_is_only_due_soon_raises_nothing()
    {
        Ledger().Decide(Step(0, Tank(0, 0.65) with { Urgency = Urgency.DueSoon })).Should().BeEmpty();
    }

    [Fact]
    public void A_problem_that_clears_and_returns_is_noted_on_its_open_ticket()
    {
        TicketLedger ledger = Ledger(Open(7, Rule.TankFilling));

        ledger.Decide(Cleared(5, Rule.TankFilling)).Should().Equal(new TicketCommand.ProblemCleared(At(5), 7));
        ledger.Decide(Step(9, Tank(9, 0.85))).Should().Equal(new TicketCommand.ProblemReturned(At(9), 7, Tank(9, 0.85).Evidence));
        ledger.Decide(Step(10, Tank(9, 0.85))).Should().BeEmpty();
    }

    [Fact]
    public void A_closed_problem_that_cleared_and_came_again_is_a_new_ticket()
    {
        TicketLedger ledger = Ledger(Closed(7, Rule.TankFilling, doneHour: 1));

        ledger.Decide(Step(3, Tank(3, 0.81))).Should().Equal(new TicketCommand.Raise(At(3), -1, Tank(3, 0.81)));
    }

    [Fact]
    public void A_closed_problem_that_never_cleared_waits_a_day_and_is_reopened()
    {
        TicketLedger ledger = Ledger(Closed(7, Rule.TankFilling, doneHour: 1));

        ledger.Decide(Step(24, Tank(0, 0.86))).Should().BeEmpty("twenty-three hours have passed since the work");
        ledger.Decide(Step(25, Tank(0, 0.86))).Should().Equal(new TicketCommand.Reopen(At(25), 7, Tank(0, 0.86)));
        ledger.Decide(Step(26, Tank(0, 0.86))).Should().BeEmpty();
    }

    [Fact]
    public void A_silence_that_ends_within_a_day_closes_its_ticket_by_itself()
    {
        TicketLedger ledger = Ledger(Open(7, Rule.NotReporting));

        ledger.Decide(Cleared(24, Rule.NotReporting)).Should().Equal(new TicketCommand.CloseByItself(At(24), 7));
        ledger.Decide(Step(30, Silent(30))).Should().ContainSingle().Which.Should().BeOfType<TicketCommand.Raise>("it is a new silence");
    }

    [Fact]
    public void A_silence_that_lasted_longer_leaves_its_ticket_to_a_person()
    {
        Ledger(Open(7, Rule.NotReporting)).Decide(Cleared(25, Rule.NotReporting)).Should().Equal(new TicketCommand.ProblemCleared(At(25), 7));
    }

    [Fact]
    public void A_ticket_that_somebody_has_taken_is_not_closed_under_their_hands()
    {
        TicketLedger ledger = Ledger(Open(7, Rule.NotReporting) with { State = TicketState.Taken });

        ledger.Decide(Cleared(2, Rule.NotReporting)).Should().Equal(new TicketCommand.ProblemCleared(At(2), 7));
    }

    [Fact]
    public void The_open_ticket_counts_before_closed_ones_and_of_those_the_last()
    {
        TicketLedger ledger = Ledger(Closed(1, Rule.TankFilling, 40), Open(2, Rule.TankFilling), Closed(3, Rule.LowCharge, 9), Closed(4, Rule.LowCharge, 2));

        ledger.Find(Rule.TankFilling, "")!.Ref.Should().Be(2);
        ledger.Find(Rule.LowCharge, "")!.Ref.Should().Be(3);
    }

    [Fact]
    public void A_ticket_closed_by_a_person_follows_the_same_rules()
    {
        TicketLedger ledger = Ledger();
        ledger.Decide(Step(0, Tank(0, 0.81)));

        ledger.Close(-1, At(2), TicketOutcome.Fixed);

        ledger.Decide(Step(3, Tank(0, 0.81))).Should().BeEmpty();
        ledger.Decide(Step(26, Tank(0, 0.81))).Should().Equal(new TicketCommand.Reopen(At(26), -1, Tank(0, 0.81)));
    }

    private static DateTimeOffset At(int hour) => Monday.AddHours(hour);

    private static TicketLedger Ledger(params LedgerTicket[] tickets) => new(tickets);

    private static WatchStep Step(int hour, params Problem[] problems) => new(At(hour), problems, []);

    private static WatchStep Cleared(int hour, Rule rule) => new(At(hour), [], [new ClearedProblem(rule, "")]);

    private static Problem Tank(int sinceHour, double share) =>
        new(Rule.TankFilling, "", Urgency.NeedsVisit, At(sinceHour), new TankFillingEvidence(share, 208.2, null));

    private static Problem Idle(string tool, int sinceHour, int otherUses) =>
        new(Rule.IdleTool, tool, Urgency.NeedsVisit, At(sinceHour), new IdleToolEvidence(tool, Monday.AddDays(-7), Monday.AddDays(-7), otherUses, 9000, null));

    private static Problem Silent(int sinceHour) =>
        new(Rule.NotReporting, "", Urgency.NeedsVisit, At(sinceHour), new NotReportingEvidence(At(sinceHour - 3), 900));

    private static LedgerTicket Open(int name, Rule rule) =>
        new(name, rule, "", TicketState.New, Monday, new LowChargeEvidence(0.4, 0.5));

    private static LedgerTicket Closed(int name, Rule rule, int doneHour) =>
        Open(name, rule) with { State = TicketState.Closed, Done = At(doneHour), Outcome = TicketOutcome.Fixed };
}
