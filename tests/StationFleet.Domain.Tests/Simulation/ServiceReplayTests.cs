using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Simulation;

public sealed class ServiceReplayTests
{
    private static readonly FleetFile Fleet = DemoFleet.Load();
    private static readonly DateTimeOffset Morning = StationSimulatorTests.Local(8, 7, 5);
    private static readonly PastService Cop1 = Run("COP-1", new(2026, 6, 15));

    [Fact]
    public void Run_raises_the_missing_wrench_on_Monday_and_the_technician_takes_it_on_Tuesday()
    {
        PastTicket wrench = Cop1.Tickets.Single(ticket => ticket.Rule == Rule.IdleTool);

        (wrench.Part, wrench.State, wrench.Taken).Should().Be(("wrench", TicketState.Taken, StationSimulatorTests.Local(7, 7, 30)));
        wrench.Raised.Should().BeCloseTo(StationSimulatorTests.Local(6, 15, 30), TimeSpan.FromMinutes(30));
    }

    [Fact]
    public void Run_leaves_the_tank_of_this_morning_for_whoever_looks_first()
    {
        PastTicket tank = Cop1.Tickets[^1];

        (tank.Rule, tank.State).Should().Be((Rule.TankFilling, TicketState.New));
        tank.Raised.Should().BeCloseTo(StationSimulatorTests.Local(8, 6), TimeSpan.FromHours(1)).And.BeBefore(StationSimulatorTests.Local(8, 7, 5), "then people look");
    }

    [Fact]
    public void Run_lets_a_pump_out_close_the_tanks_ticket_with_its_volume()
    {
        PastTicket tank = Cop1.Tickets.First(ticket => ticket.Rule == Rule.TankFilling);

        (tank.State, tank.Outcome).Should().Be((TicketState.Closed, TicketOutcome.Fixed));
        tank.Visits.Should().ContainSingle().Which.PumpedOutLitres.Should().BeGreaterThan(0.75 * 208);
        tank.Events.Select(happening => happening.Kind).Where(kind => kind is not (TicketEventKind.ProblemCleared or TicketEventKind.ProblemReturned))
            .Should().StartWith([TicketEventKind.Raised, TicketEventKind.Taken]).And.Contain(TicketEventKind.Closed);
        tank.Events.Should().BeInAscendingOrder(happening => happening.At);
        ((TankFillingEvidence)tank.Evidence).FillShare.Should().BeGreaterThan(0.8, "the reading after the pump-out is not why somebody came");
    }

    [Fact]
    public void Run_keeps_the_visits_that_no_ticket_asked_for() =>
        Cop1.OtherVisits.Should().ContainSingle().Which.At.Should().Be(StationSimulatorTests.Local(2, 10, 30));

    [Fact]
    public void Run_ends_with_the_same_story_wherever_it_begins()
    {
        DateTimeOffset since = StationSimulatorTests.Local(28, 0, 0, month: 6);
        PastService later = Run("COP-1", new(2026, 6, 17));

        PastTicket[] tickets = [.. later.Tickets.Where(ticket => ticket.Raised >= since)];
        PastTicket[] expected = [.. Cop1.Tickets.Where(ticket => ticket.Raised >= since)];
        tickets.Select(ticket => (ticket.Rule, ticket.Part, ticket.Closed)).Should().Equal(expected.Select(ticket => (ticket.Rule, ticket.Part, ticket.Closed)));
        foreach ((PastTicket ticket, PastTicket other) in tickets.Zip(expected))
        {
            ticket.Raised.Should().BeCloseTo(other.Raised, TimeSpan.FromHours(16), "two days more of knowledge move a rule's patience a little, and a night may lie between");
        }
    }

    [Fact]
    public void Run_keeps_the_silent_week_of_SOR_1_open_until_the_card_is_read()
    {
        PastTicket silence = Run("SOR-1", new(2026, 6, 5), StationSimulatorTests.Local(18, 0, 0, 6)).Tickets.Single(t => t.Rule == Rule.NotReporting);

        (silence.Closed, silence.Outcome).Should().Be((StationSimulatorTests.Local(16, 10, 30, 6), TicketOutcome.Fixed));
    }

    private static PastService Run(string code, DateOnly first, DateTimeOffset? until = null) => ServiceReplay.Run(
        Fleet, Fleet.SetupOf(code, Morning), new SimulationOptions(TechnicianUntil: Morning), first, until ?? Morning, TimeSpan.FromMinutes(5));
}
