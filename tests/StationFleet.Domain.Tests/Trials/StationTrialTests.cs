using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quality;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Trials;

public sealed class StationTrialTests
{
    private static readonly TimeSpan Grid = TimeSpan.FromMinutes(5);
    private static readonly DateTimeOffset Start = new(2026, 7, 1, 12, 0, 0, TimeSpan.Zero);

    private static readonly FleetFile Fleet = FleetOf(new FleetTank(200));

    [Fact]
    public void Run_in_stretches_raises_what_one_run_of_the_engine_raises()
    {
        FleetFile fleet = QualityWorld.Of(QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Middling)[2], SimulatedWorldKind.Usual);
        List<WatchReport> reports =
        [
            .. new StationSimulator(fleet, QualityWorld.Code).Run(QualityWorld.First, QualityWorld.First.AddDays(40))
                .Select(report => new WatchReport(report.Received, report.Measurements)),
        ];
        DateTimeOffset begin = reports[0].Received;
        DateTimeOffset until = reports[^1].Received;
        StationTrial trial = new(TrialSetup.Of(fleet, QualityWorld.Code), begin, Grid);
        trial.Run([.. reports.Take(1000)], reports[999].Received);
        trial.Run([.. reports.Skip(1000)], until);

        WatchState state = WatchState.StartingAt(begin);
        StationSetup setup = fleet.SetupOf(QualityWorld.Code, begin);
        WatchResult whole = new WatchEngine(setup, state, Grid).Run(reports, until, WatchHistory.After(state));
        TicketLedger ledger = new([]);
        List<TicketCommand.Raise> raised = [.. whole.Steps.SelectMany(ledger.Decide).OfType<TicketCommand.Raise>()];

        trial.Tickets.Should().NotBeEmpty();
        trial.Tickets.Select(ticket => (ticket.Rule, ticket.Part, ticket.Raised)).Should().Equal(raised.Select(r => (r.Problem.Rule, r.Problem.Part, r.At)));
        trial.PumpOuts.Should().Equal(whole.PumpOuts);
        trial.Problems.Should().Equal(whole.Problems);
    }

    [Fact]
    public void A_silence_that_nobody_took_closes_itself_and_a_taken_one_waits_for_the_person()
    {
        PastTicket free = Silence(answer: null).Tickets.Single();
        PastTicket taken = Silence(ticket => [new TrialEvent.TicketTaken(ticket.Raised.AddMinutes(30), ticket.Rule, ticket.Part)]).Tickets.Single();

        (free.State, free.Outcome).Should().Be((TicketState.Closed, TicketOutcome.ClearedByItself));
        (taken.State, taken.ProblemCleared).Should().Be((TicketState.Taken, Start.AddHours(50)));
    }

    [Fact]
    public void A_ticket_goes_on_after_another_was_taken()
    {
        static IEnumerable<TrialEvent> Answer(PastTicket ticket) =>
            ticket.Rule == Rule.LowCharge ? [new TrialEvent.TicketTaken(ticket.Raised.AddMinutes(1), ticket.Rule, ticket.Part)] : [];
        StationTrial trial = new(TrialSetup.Of(Fleet, "T-1"), Start, Grid, Answer);
        trial.Run([.. Enumerable.Range(0, 9).Select(i => Report(i * 15, (MeasurementName.TankFill, 0.9), (MeasurementName.BatteryCharge, 0.3)))], Start.AddHours(3));
        trial.Run([.. Enumerable.Range(0, 3).Select(i => Report(200 + (15 * i), (MeasurementName.TankFill, 0.1)))], Start.AddHours(5));

        trial.Tickets.Select(ticket => (ticket.Rule, ticket.State)).Should().Equal((Rule.TankFilling, TicketState.New), (Rule.LowCharge, TicketState.Taken));
        trial.Tickets[0].ProblemCleared.Should().Be(Start.AddMinutes(230), "three readings over half an hour prove the pump-out");
    }

    [Fact]
    public void A_larger_tank_counts_from_its_date_on()
    {
        FleetFile fleet = FleetOf(new FleetTank(200, HeightM: 1), new FleetTank(400, From: Start.AddHours(5), HeightM: 2));
        StationTrial trial = new(TrialSetup.Of(fleet, "T-1"), Start, Grid);
        trial.Run([.. Enumerable.Range(0, 40).Select(i => Report(i * 15, (MeasurementName.TankLevel, 0.9)))], Start.AddHours(10));

        PastTicket ticket = trial.Tickets.Single();
        ticket.Raised.Should().Be(Start.AddMinutes(30), "the third reading");
        ticket.ProblemCleared.Should().NotBeNull().And.BeOnOrAfter(Start.AddHours(5)).And.BeOnOrBefore(Start.AddHours(6));
    }

    [Fact]
    public void Nothing_is_raised_while_people_say_that_the_station_need_not_work()
    {
        StationTrial trial = new(TrialSetup.Of(Fleet, "T-1"), Start, Grid);
        trial.Plan(new TrialEvent.NotRequired(Start.AddHours(1), Start.AddHours(30), QuietReason.AccessClosed));
        trial.Run([Report(0, (MeasurementName.TankFill, 0.2))], Start.AddHours(29));
        int before = trial.Tickets.Count;
        trial.Run([], Start.AddHours(80));

        before.Should().Be(0);
        trial.Tickets.Single().Raised.Should().BeAfter(Start.AddHours(60), "silence counts from the end of the quiet time");
    }

    [Fact]
    public void A_closing_of_a_ticket_that_was_never_raised_is_counted_and_harmless()
    {
        StationTrial trial = new(TrialSetup.Of(Fleet, "T-1"), Start, Grid);
        trial.Plan(new TrialEvent.TicketClosed(Start.AddHours(1), Rule.TankFilling, "", TicketOutcome.Fixed));
        trial.Run([], Start.AddHours(2));

        (trial.EventsWithoutTicket, trial.Tickets.Count).Should().Be((1, 0));
    }

    private static StationTrial Silence(Func<PastTicket, IEnumerable<TrialEvent>>? answer)
    {
        StationTrial trial = new(TrialSetup.Of(Fleet, "T-1"), Start, Grid, answer);
        trial.Run([Report(0, (MeasurementName.TankFill, 0.2)), Report(50 * 60, (MeasurementName.TankFill, 0.2))], Start.AddHours(51));
        return trial;
    }

    private static WatchReport Report(int minute, params (string Name, double Value)[] values) =>
        new(Start.AddMinutes(minute), [.. values.Select(value => new Measurement(value.Name, Start.AddMinutes(minute), value.Value))]);

    private static FleetFile FleetOf(params FleetTank[] tanks) => new()
    {
        Name = "Trial",
        TimeZone = "America/Boise",
        Agencies = [new FleetAgency("A")],
        Accesses = [],
        Stations = [new FleetStation { Code = "T-1", Owner = "A", Created = Start.AddDays(-30), Tools = [], Placements = [], Tanks = tanks }],
    };
}
