using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Simulation;

/// <summary>What the technician does about a ticket: looks at the list at half past seven, drives, and mends what there is to mend.</summary>
internal sealed class SimulatedTechnician(FleetFile fleet, string code)
{
    private readonly FleetSimulation _simulation = fleet.Simulation ?? new FleetSimulation();

    /// <summary>What the technician will do about a ticket that was raised or reopened just now.</summary>
    /// <param name="ticket">The ticket.</param>
    /// <param name="pumpOuts">All pump-outs of the simulated world, by time.</param>
    public IEnumerable<TrialEvent> AnswerTo(PastTicket ticket, IReadOnlyList<SimulatedPumpOut> pumpOuts)
    {
        DateTimeOffset at = ticket.Events[^1].At;
        Answer answer = To(ticket.Rule, ticket.Part, at, pumpOuts);
        yield return new TrialEvent.TicketTaken(answer.Taken > at ? answer.Taken : at, ticket.Rule, ticket.Part);
        if (answer.Visit is { } visit)
        {
            yield return new TrialEvent.TicketClosed(visit.At, ticket.Rule, ticket.Part, answer.Outcome, visit);
        }
    }

    /// <summary>What will be done about a ticket.</summary>
    /// <param name="Taken">When it is taken.</param>
    /// <param name="Visit">The visit that ends it; null when it is not known yet.</param>
    /// <param name="Outcome">How that visit ends it.</param>
    private sealed record Answer(DateTimeOffset Taken, PastVisit? Visit, TicketOutcome Outcome);

    private Answer To(Rule rule, string part, DateTimeOffset raised, IReadOnlyList<SimulatedPumpOut> pumpOuts)
    {
        DateTimeOffset taken = NextMorning(raised);
        switch (rule)
        {
            case Rule.TankFilling:
                SimulatedPumpOut? pumpOut = pumpOuts.FirstOrDefault(p => p.At >= raised);
                return new Answer(
                    Earlier(taken, pumpOut?.At.AddMinutes(-40)),
                    pumpOut is null ? null : new PastVisit(pumpOut.At.AddMinutes(10), 35, NoteAt(pumpOut.At) ?? "Pumped out and rinsed.", pumpOut.Litres),
                    TicketOutcome.Fixed);
            case Rule.IdleTool:
                return Mended(FaultKind.ToolMissing, part, raised, visit => visit.ReplaceTool == part, "Tool hangs where it should and works.");
            case Rule.LowCharge or Rule.WeakPanel:
                return Mended(FaultKind.PanelSoiled, null, raised, visit => visit.CleanPanel, "Panel and connectors look well; charge is rising.");
            case Rule.ExtraLoad or Rule.AgedBattery:
                return Mended(FaultKind.ExtraLoad, null, raised, visit => visit.Mends.Contains(FaultKind.ExtraLoad), "Measured battery and loads; nothing found.");
            default:
                return Mended(FaultKind.RadioOutage, null, raised, visit => visit.ReadCard, "Station reports again; nothing found.");
        }
    }

    private Answer Mended(FaultKind kind, string? tool, DateTimeOffset raised, Func<PlannedVisit, bool> mends, string otherwise)
    {
        DateTimeOffset taken = NextMorning(raised);
        PlannedVisit? visit = _simulation.Visits.Where(v => v.Station == code && v.At >= raised && mends(v)).MinBy(v => v.At);
        bool isReal = _simulation.Faults.Any(fault => fault.Station == code && fault.Kind == kind && fault.Tool == tool
            && fault.From <= raised && (fault.To is null || fault.To > raised));
        return (isReal, visit) switch
        {
            (true, { } mending) => new Answer(
                Earlier(taken, mending.At.AddMinutes(-60)), new PastVisit(mending.At, 40, mending.Note ?? "Mended.", null), TicketOutcome.Fixed),
            (true, null) when kind != FaultKind.RadioOutage => new Answer(taken, null, TicketOutcome.Fixed),
            _ => new Answer(taken, new PastVisit(taken.AddHours(5), 15, otherwise, null), TicketOutcome.NothingWrong),
        };
    }

    private string? NoteAt(DateTimeOffset at) => _simulation.Visits
        .FirstOrDefault(visit => visit.Station == code && visit.PumpOut && (visit.At - at).Duration() < TimeSpan.FromMinutes(6))?.Note;

    private DateTimeOffset NextMorning(DateTimeOffset after)
    {
        DateOnly date = LocalCalendar.DateOf(after, fleet.Zone);
        DateTimeOffset morning;
        while ((morning = LocalCalendar.StartOf(date, fleet.Zone).AddHours(7.5)) < after
            || date.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday
            || _simulation.Holidays.Any(holiday => holiday.Date == date && holiday.DayOff))
        {
            date = date.AddDays(1);
        }

        return morning;
    }

    private static DateTimeOffset Earlier(DateTimeOffset usual, DateTimeOffset? other) => other < usual ? other.Value : usual;
}
