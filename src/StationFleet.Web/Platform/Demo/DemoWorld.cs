using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Platform.Demo;

/// <summary>
/// The invented world as it goes on while the demo runs: nobody mends anything by himself, but a ticket that somebody closes as
/// fixed mends what it was about, so that the next reports show it.
/// </summary>
internal sealed class DemoWorld(IDbContextFactory<FleetDbContext> databases, DemoFleetFile demo)
{
    private (string Key, FleetSimulator Simulator)? _known;

    public async Task<FleetSimulator> SimulatorAsync(CancellationToken cancel)
    {
        List<PlannedVisit> visits = await VisitsAsync(cancel);
        string key = string.Join('|', visits);
        if (_known is not { } known || known.Key != key)
        {
            _known = (key, new FleetSimulator(demo.Fleet, new SimulationOptions(Visits: visits, TechnicianUntil: DemoOffset.Start)));
        }

        return _known.Value.Simulator;
    }

    private async Task<List<PlannedVisit>> VisitsAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var closed = await db.Tickets
            .Where(ticket => ticket.State == TicketState.Closed && ticket.Outcome == TicketOutcome.Fixed && ticket.Closed > DemoOffset.Start)
            .Join(db.Stations, ticket => ticket.StationId, station => station.Id, (ticket, station) => new
            {
                station.Code, ticket.Rule, ticket.Part, At = ticket.Closed!.Value, ticket.Id,
            })
            .OrderBy(row => row.At).ThenBy(row => row.Id)
            .ToListAsync(cancel);
        return
        [
            .. closed.Select(row => new PlannedVisit(
                row.Code,
                row.At,
                PumpOut: row.Rule == Rule.TankFilling,
                CleanPanel: row.Rule is Rule.LowCharge or Rule.WeakPanel,
                ReplaceTool: row.Rule == Rule.IdleTool ? row.Part : null)),
        ];
    }
}
