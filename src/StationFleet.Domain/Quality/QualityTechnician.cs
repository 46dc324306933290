using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>Who answers tickets in a quality trial.</summary>
public enum QualityPeople
{
    /// <summary>
    /// Somebody comes a day after each ticket, tries each tool twice, mends what is wrong there, and closes: «fixed» when something
    /// was, «nothing wrong» when not.
    /// </summary>
    Technician,

    /// <summary>Nobody closes anything.</summary>
    Nobody,
}

/// <summary>The technician of a quality trial.</summary>
internal sealed class QualityTechnician(StationSimulator simulator, SeasonTruth truth)
{
    private static readonly TimeSpan After = TimeSpan.FromHours(24);
    private static readonly TimeSpan AtWork = TimeSpan.FromMinutes(15);

    public IEnumerable<TrialEvent> AnswerTo(PastTicket ticket)
    {
        DateTimeOffset told = ticket.Events[^1].At;
        DateTimeOffset closes = told + After;
        List<PlannedFault> found = [.. simulator.Faults.Where(fault => FaultRules.Explains(fault, ticket.Rule, ticket.Part, told))];
        bool wasTrue = found.Count > 0 || (ticket.Rule == Rule.TankFilling ? truth.IsWorthEmptying(told) : truth.Explains(ticket.Rule, told));
        simulator.Add(new PlannedVisit(QualityWorld.Code, closes - AtWork, PumpOut: ticket.Rule == Rule.TankFilling && wasTrue)
        {
            TestUses = 2,
            ReplaceTool = found.Find(fault => fault.Tool is not null)?.Tool,
            Mends = [.. found.Where(fault => fault.Tool is null).Concat(Causes(ticket.Rule, told)).Select(fault => fault.Kind)],
        });
        yield return new TrialEvent.TicketClosed(
            closes,
            ticket.Rule,
            ticket.Part,
            wasTrue ? TicketOutcome.Fixed : TicketOutcome.NothingWrong,
            new PastVisit(closes, 40, wasTrue ? "Mended." : "Nothing wrong.", null));
    }

    // A battery that runs down makes a person look for the reason.
    private IEnumerable<PlannedFault> Causes(Rule rule, DateTimeOffset at) => rule != Rule.LowCharge ? [] : simulator.Faults.Where(fault =>
        fault.From <= at && fault.Kind is FaultKind.PanelDisconnected or FaultKind.PanelSoiled or FaultKind.ExtraLoad or FaultKind.BatteryAged);
}
