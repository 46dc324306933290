using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Simulation;

/// <summary>
/// Shows one station's simulated reports to the watch and lets the simulated technician take and close tickets in between: the past
/// that a demo begins with.
/// </summary>
public static class ServiceReplay
{
    /// <summary>Replays a stretch of time.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="setup">The station's setup.</param>
    /// <param name="options">The options that its reports were simulated with.</param>
    /// <param name="first">The first local day; some days before those that matter, so that the facts are known by then.</param>
    /// <param name="until">The end.</param>
    /// <param name="gridEvery">Distance of the watch's fixed instants.</param>
    /// <param name="onReport">Called with each report that arrives by the end, in order; null when nobody asks.</param>
    public static PastService Run(
        FleetFile fleet,
        StationSetup setup,
        SimulationOptions options,
        DateOnly first,
        DateTimeOffset until,
        TimeSpan gridEvery,
        Action<SimulatedReport>? onReport = null)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        ArgumentNullException.ThrowIfNull(setup);
        List<SimulatedPumpOut> pumpOuts = [];
        List<WatchReport> reports = [];
        StationSimulator simulator = new(fleet, setup.Code, options);

        // Pump-outs of the days after the end are not done yet, and must not be known.
        foreach (SimulatedReport report in simulator.Run(
            first, LocalCalendar.DateOf(until, fleet.Zone), day => pumpOuts.AddRange(day.PumpOuts.Where(p => p.At <= until))))
        {
            if (report.Received <= until)
            {
                onReport?.Invoke(report);
                reports.Add(new WatchReport(report.Received, report.Measurements));
            }
        }

        DateTimeOffset begin = LocalCalendar.StartOf(first, fleet.Zone);
        SimulatedTechnician technician = new(fleet, setup.Code);
        StationTrial trial = new(TrialSetup.Fixed(setup), begin, gridEvery, ticket => technician.AnswerTo(ticket, pumpOuts));
        trial.Run(reports, until);
        IReadOnlyList<PastVisit> others = [.. OtherVisits(fleet, setup.Code, trial.Tickets, pumpOuts, begin, until)];
        return new PastService(
            trial.Tickets,
            Knowing(others, trial.State),
            trial.Checkpoints,
            trial.Problems,
            trial.PumpOuts,
            others);
    }

    // Visits that no ticket asked for are written beside the state; the live watch need not fold the last weeks anew for them.
    private static WatchState Knowing(IReadOnlyList<PastVisit> others, WatchState state)
    {
        IReadOnlyList<UtcInterval> visits = [.. others.Select(visit => ServiceLog.VisitEndingAt(visit.At, visit.Minutes))];
        state.Service = [.. state.Service, .. ServiceMark.Of(new ServiceLog(visits, []), since: null)];
        return state;
    }

    private static IEnumerable<PastVisit> OtherVisits(
        FleetFile fleet,
        string code,
        IReadOnlyList<PastTicket> tickets,
        IReadOnlyList<SimulatedPumpOut> pumpOuts,
        DateTimeOffset begin,
        DateTimeOffset until) =>
        from visit in fleet.Simulation?.Visits ?? []
        where visit.Station == code && begin <= visit.At && visit.At <= until
            && !tickets.SelectMany(ticket => ticket.Visits).Any(made => (made.At - visit.At).Duration() < TimeSpan.FromMinutes(20))
        let pumpOut = visit.PumpOut ? pumpOuts.FirstOrDefault(p => (p.At - visit.At).Duration() < TimeSpan.FromMinutes(6)) : null
        select new PastVisit(visit.At, 25, visit.Note ?? "Looked after the station.", pumpOut?.Litres);
}
