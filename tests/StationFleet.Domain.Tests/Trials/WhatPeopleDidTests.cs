using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Trials;

public sealed class WhatPeopleDidTests
{
    private static readonly DateTimeOffset Start = new(2026, 7, 1, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public void A_ticket_that_nobody_had_then_is_closed_a_day_after_it_cleared()
    {
        IReadOnlyList<PastTicket> tickets = TankFullTwice(WhatPeopleDid.Nothing);

        tickets.Should().HaveCount(2, "left open, the first would have swallowed the second");
        tickets[0].Outcome.Should().Be(TicketOutcome.ClearedByItself);
        (tickets[0].Closed - tickets[0].ProblemCleared).Should().BeGreaterThanOrEqualTo(TimeSpan.FromDays(1)).And.BeLessThan(TimeSpan.FromHours(26));
        tickets[1].State.Should().Be(TicketState.New);
    }

    [Fact]
    public void A_ticket_that_was_open_then_waits_for_the_person_of_then()
    {
        TrialEvent closed = new TrialEvent.TicketClosed(Start.AddHours(55), Rule.TankFilling, "", TicketOutcome.Fixed);

        IReadOnlyList<PastTicket> tickets = TankFullTwice(new WhatPeopleDid([closed], [new TicketThen(Rule.TankFilling, "", Start.AddHours(1), closed.At)]));

        tickets.Should().HaveCount(2);
        (tickets[0].Closed, tickets[0].Outcome).Should().Be((closed.At, TicketOutcome.Fixed));
    }

    [Fact]
    public void A_ticket_that_is_open_to_this_day_takes_the_problem_in_that_came_back()
    {
        IReadOnlyList<PastTicket> tickets = TankFullTwice(new WhatPeopleDid([], [new TicketThen(Rule.TankFilling, "", Start.AddHours(1), null)]));

        tickets.Single().Events.Select(happened => happened.Kind).Should().Equal(
            TicketEventKind.Raised, TicketEventKind.ProblemCleared, TicketEventKind.ProblemReturned);
    }

    // Full for ten hours, empty for two days, full again.
    private static IReadOnlyList<PastTicket> TankFullTwice(WhatPeopleDid people)
    {
        StationSetup setup = new(
            "T-1", TimeZoneInfo.Utc, Start.AddDays(-30), TimeSpan.FromMinutes(15), [], TankHistory.Of(new TankSetup(200)), null, RuleSettings.Default, []);
        StationTrial trial = new(TrialSetup.Fixed(setup), Start, TimeSpan.FromMinutes(5), people: people);
        List<WatchReport> reports = [];
        for (double hour = 0; hour < 70; hour += 0.25)
        {
            DateTimeOffset at = Start.AddHours(hour);
            reports.Add(new WatchReport(at, [new Measurement(MeasurementName.TankFill, at, hour is < 10 or >= 60 ? 0.9 : 0.1)]));
        }

        trial.Run(reports, Start.AddHours(70));
        return trial.Tickets;
    }
}
