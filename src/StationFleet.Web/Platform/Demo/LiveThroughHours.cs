using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Platform.Demo;

/// <summary>
/// Lives through the hours since the stations last reported: the fleet's clock is held at the instant of each report, which goes
/// through the real intake. After a long stop the newest days do; what is older goes straight to the store.
/// </summary>
internal sealed class LiveThroughHours(
    IDbContextFactory<FleetDbContext> databases,
    DemoFleetFile demo,
    DemoReports reports,
    DemoWorld world,
    DemoMemory memory,
    ReportPoster poster,
    RunWatch watch,
    FleetClock clock)
{
    private static readonly TimeSpan FilledGap = TimeSpan.FromDays(14);
    private static readonly TimeSpan ThroughIntake = TimeSpan.FromDays(5);

    // Reports that arrive close together are posted together; only the newest hour is told to the second.
    private static readonly TimeSpan Together = TimeSpan.FromMinutes(5);
    private static readonly TimeSpan OneByOne = TimeSpan.FromHours(1);

    public async Task HandleAsync(DateTimeOffset since, DemoFile keys, CancellationToken cancel)
    {
        DateTimeOffset until = clock.GetUtcNow();
        DateTimeOffset from = since < until - FilledGap ? until - FilledGap : since;
        FleetSimulator simulator = await world.SimulatorAsync(cancel);
        DateTimeOffset posted = from < until - ThroughIntake ? until - ThroughIntake : from;
        if (from < posted)
        {
            await StoreAsync(simulator, from, posted, cancel);
        }

        try
        {
            clock.HoldAt(posted);
            await PostAsync(simulator, posted, until, keys, cancel);
            clock.HoldAt(until);
            await TakeTicketsAsync(cancel);
            await watch.HandleAsync(cancel);
        }
        finally
        {
            clock.Release();
        }

        await memory.SetFedUpToAsync(until, cancel);
    }

    private async Task StoreAsync(FleetSimulator simulator, DateTimeOffset after, DateTimeOffset upTo, CancellationToken cancel)
    {
        Dictionary<string, StationId> stations = await memory.StationsAsync(cancel);
        foreach (StationSimulator station in simulator.Stations)
        {
            await reports.WriteAsync(stations[station.Code], [.. station.ReceivedBetween(after, upTo)], firstPastId: null, waiting: 200, cancel);
        }
    }

    private async Task PostAsync(FleetSimulator simulator, DateTimeOffset after, DateTimeOffset upTo, DemoFile keys, CancellationToken cancel)
    {
        List<SimulatedReport> together = [];
        foreach (SimulatedReport report in simulator.ReceivedBetween(after, upTo))
        {
            // A station's reports keep their order, so two of one station are never under way at once.
            if (together.Count > 0
                && (report.Received > upTo - OneByOne || report.Received - together[0].Received > Together || together.Exists(other => other.Station == report.Station)))
            {
                await PostAsync(together, keys, cancel);
                together.Clear();
            }

            together.Add(report);
        }

        await PostAsync(together, keys, cancel);
    }

    private async Task PostAsync(List<SimulatedReport> together, DemoFile keys, CancellationToken cancel)
    {
        if (together.Count > 0)
        {
            clock.HoldAt(together[^1].Received);
            await Task.WhenAll(together.Select(report => poster.PostAsync(report, keys, cancel)));
        }
    }

    // Until real people take over on the demo's morning, the technician looks at the list at half past seven.
    private Task TakeTicketsAsync(CancellationToken cancel) => databases.WriteAsync(
        async db =>
        {
            DateTimeOffset morning = LocalCalendar.StartOf(LocalCalendar.DateOf(DemoOffset.Start, demo.Fleet.Zone).AddDays(-1), demo.Fleet.Zone).AddHours(7.5);
            FleetUser technician = await DemoTickets.TechnicianAsync(db, cancel);
            List<Ticket> open = await db.Tickets
                .Where(ticket => ticket.State == TicketState.New && ticket.Rule != Rule.NewFind && ticket.Raised < morning && ticket.Number >= LoadRecentPast.FirstTicketNumber)
                .ToListAsync(cancel);
            foreach (Ticket ticket in open)
            {
                if (await db.TicketEvents.AnyAsync(e => e.TicketId == ticket.Id && e.Kind != TicketEventKind.Raised, cancel))
                {
                    continue;
                }

                (ticket.State, ticket.TakenAt, ticket.TakenById) = (TicketState.Taken, morning, technician.Id);
                ticket.Version++;
                db.Add(new TicketEvent { TicketId = ticket.Id, At = morning, Kind = TicketEventKind.Taken, Who = technician.DisplayName });
            }
        },
        cancel);
}
