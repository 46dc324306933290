using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Platform.Demo;

/// <summary>
/// The last thirty days before the demo's start but for the newest, of which the intake tells: reports, what the watch made of
/// them, what the technician did. The live watch goes on from there.
/// </summary>
internal sealed class LoadRecentPast(
    IDbContextFactory<FleetDbContext> databases,
    DemoFleetFile demo,
    DemoReports reports,
    StationSetupReader setups,
    TicketMailer mailer,
    IOptions<WatchOptions> watch)
{
    /// <summary>The first ticket of these days; those of the older past come before it.</summary>
    public const int FirstTicketNumber = 101;

    private const int ReportsWaiting = 240;

    // Long enough for the watch to know each tool's last use by the time that counts.
    private const int WarmUpDays = 11;

    private sealed record StationPast(StationId Station, StationSetup Setup, PastService Service, long LastReportId);

    public async Task HandleAsync(IReadOnlyDictionary<string, StationId> stations, CancellationToken cancel)
    {
        List<StationPast> pasts = [];
        Task<StationPast>? writing = null;

        // One station is simulated while the one before it is written: the store has one writer, and the machine two cores.
        foreach ((string code, StationId station) in stations)
        {
            StationSetup setup = await setups.ReadAsync(station, DemoOffset.Start, demo.Fleet.Zone, cancel)
                ?? throw new InvalidOperationException($"Station {code} has gone.");
            List<SimulatedReport> own = [];
            PastService service = await Task.Run(() => Replay(setup, own), cancel);
            pasts.AddRange(writing is null ? [] : [await writing]);
            writing = WriteAsync(station, setup, service, own, cancel);
        }

        pasts.AddRange(writing is null ? [] : [await writing]);
        await databases.WriteAsync(db => WritePeopleAsync(db, stations, pasts, cancel), cancel);
    }

    private PastService Replay(StationSetup setup, List<SimulatedReport> own) => ServiceReplay.Run(
        demo.Fleet,
        setup,
        new SimulationOptions(TechnicianUntil: DemoOffset.Start),
        demo.RecentFirst.AddDays(-WarmUpDays),
        DemoFleetFile.HttpFrom,
        watch.Value.Every,
        report =>
        {
            if (report.Measurements[0].At > demo.RecentFrom)
            {
                own.Add(report);
            }
        });

    private async Task<StationPast> WriteAsync(
        StationId station, StationSetup setup, PastService service, List<SimulatedReport> own, CancellationToken cancel) =>
        new(station, setup, service, await reports.WriteAsync(station, own, firstPastId: null, ReportsWaiting, cancel));

    private async Task WritePeopleAsync(
        FleetDbContext db, IReadOnlyDictionary<string, StationId> stations, List<StationPast> pasts, CancellationToken cancel)
    {
        List<PastTicket> tickets =
        [
            .. pasts.SelectMany(past => past.Service.Tickets).Where(ticket => ticket.Raised >= demo.RecentFrom).OrderBy(ticket => ticket.Raised),
        ];
        IReadOnlyList<Ticket> added = await DemoTickets.AddAsync(db, stations, tickets, FirstTicketNumber, cancel);
        string who = (await DemoTickets.TechnicianAsync(db, cancel)).DisplayName;
        foreach (StationPast past in pasts)
        {
            await DemoTickets.AddVisitsAsync(
                db, past.Station, null, [.. past.Service.OtherVisits.Where(visit => visit.At >= demo.RecentFrom)], who, cancel);
            await HandOverAsync(db, past, [.. added.Where(ticket => ticket.StationId == past.Station)], cancel);
        }
    }

    // Position, checkpoints, problems and pump-outs, as if the watch had run itself.
    private async Task HandOverAsync(FleetDbContext db, StationPast past, List<Ticket> tickets, CancellationToken cancel)
    {
        WatchResult result = new(
            0,
            [],
            past.Service.Problems,
            [.. past.Service.Checkpoints.Where(checkpoint => checkpoint.AsOf >= demo.RecentFrom)],
            [.. past.Service.PumpOuts.Where(pumpOut => pumpOut.At >= demo.RecentFrom)],
            null,
            null);
        WatchFindings findings = new(
            past.Station, past.Setup, past.Service.State.EvaluatedTo, past.LastReportId, past.Service.State, result, DemoFleetFile.HttpFrom);
        await findings.WriteAsync(db, mailer, cancel);
        foreach (Ticket open in tickets.Where(ticket => ticket.State != TicketState.Closed))
        {
            await mailer.WriteAsync(
                db, new TicketWriter.Telling(open, TicketEventKind.Raised, open.Raised), findings with { Now = open.Raised }, cancel);
        }
    }
}
