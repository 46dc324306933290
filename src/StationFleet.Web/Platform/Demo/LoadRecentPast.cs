using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Duty;
using StationFleet.Web.Sampling;
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
    CallPeople call,
    IOptions<DutyOptions> duty,
    NewFinds finds,
    DemoCounts counts,
    IOptions<WatchOptions> watch)
{
    /// <summary>The first ticket of these days; those of the older past come before it.</summary>
    public const int FirstTicketNumber = 101;

    private const int ReportsWaiting = 240;

    // Long enough for the watch to know how each tool is used by the time that counts.
    private const int WarmUpDays = 28;

    private readonly Dictionary<string, Task<Simulated>> _simulated = [];

    private sealed record Simulated(StationSetup Setup, PastService Service, List<SimulatedReport> Reports);

    private sealed record StationPast(StationId Station, StationSetup Setup, PastService Service, long LastReportId);

    /// <summary>Begins to simulate: that needs no database, so it need not wait until one is there.</summary>
    public void Begin()
    {
        Task before = Task.CompletedTask;
        foreach (FleetStation station in demo.Fleet.Stations)
        {
            // One after the other: the second core has a database to make and to fill meanwhile.
            Task<Simulated> own = before.ContinueWith(_ => Simulate(station.Code), TaskScheduler.Default);
            _simulated.Add(station.Code, own);
            before = own;
        }
    }

    public async Task HandleAsync(IReadOnlyDictionary<string, StationId> stations, CancellationToken cancel)
    {
        List<StationPast> pasts = [];
        foreach ((string code, StationId station) in stations)
        {
            Simulated own = await _simulated[code];
            long last = await reports.WriteAsync(station, own.Reports, firstPastId: null, ReportsWaiting, cancel);
            pasts.Add(new StationPast(station, own.Setup, own.Service, last));
        }

        _simulated.Clear();
        await databases.WriteAsync(db => WritePeopleAsync(db, stations, pasts, cancel), cancel);
    }

    private Simulated Simulate(string code)
    {
        StationSetup setup = demo.Fleet.SetupOf(code, DemoOffset.Start);
        List<SimulatedReport> own = [];
        PastService service = ServiceReplay.Run(
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
        return new Simulated(setup, service, own);
    }

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
            await HandOverAsync(db, past, cancel);
        }

        // Those that stayed open were told of as they came, or when the night was over.
        foreach (Ticket open in added.Where(ticket => ticket.State != TicketState.Closed))
        {
            await call.HandleAsync(db, duty.Value.Quiet.Leave(open.Raised, demo.Fleet.Zone), cancel);
        }

        await DemoSamples.AddAsync(db, stations, demo.RecentFrom, DemoFleetFile.HttpFrom, DemoFleetFile.HttpFrom, finds, cancel);
        await counts.AddAsync(db, stations, demo.RecentFrom, DemoFleetFile.HttpFrom, cancel);
    }

    // Position, checkpoints, problems and pump-outs, as if the watch had run itself.
    private async Task HandOverAsync(FleetDbContext db, StationPast past, CancellationToken cancel)
    {
        WatchResult result = new(
            0,
            [],
            past.Service.Problems,
            [.. past.Service.Checkpoints.Where(checkpoint => checkpoint.AsOf >= demo.RecentFrom)],
            [.. past.Service.PumpOuts.Where(pumpOut => pumpOut.At >= demo.RecentFrom)],
            null,
            null);
        WatchState state = past.Service.State;
        StationAhead ahead = new WatchEngine(past.Setup, state, TimeSpan.FromMinutes(5)).Ahead(known: null, state.EvaluatedTo);
        WatchFindings findings = new(past.Station, past.Setup, state.EvaluatedTo, past.LastReportId, state, ahead, result, DemoFleetFile.HttpFrom);
        await findings.WriteAsync(db, cancel);
    }
}
