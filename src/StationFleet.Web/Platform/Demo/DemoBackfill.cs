using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Platform.Demo;

/// <summary>Loads the older past in the background, newest season first. A stop loses nothing: an unfinished season begins again.</summary>
internal sealed partial class DemoBackfill(
    IDbContextFactory<FleetDbContext> databases,
    DemoFleetFile demo,
    DemoReports reports,
    DemoMemory memory,
    DemoProgress progress,
    StationSetupReader setups,
    DemoCounts counts,
    IOptions<WatchOptions> watch,
    ILogger<DemoBackfill> logger) : BackgroundService
{
    private const int ReportsWaiting = 60;
    private const long IdsPerSeason = 1_000_000;

    // Tickets that are raised before the end of what is loaded are worked off within this time.
    private const int WorkedOffDays = 11;

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        await progress.Ready.WaitAsync(stoppingToken);
        FleetSeason[] seasons = [.. demo.Fleet.Seasons.Where(season => season.From < demo.RecentFirst).OrderByDescending(season => season.From)];
        try
        {
            for (int i = 0; i < seasons.Length; i++)
            {
                if (!await memory.IsLoadedAsync(seasons[i], stoppingToken))
                {
                    await LoadAsync(seasons[i], i, seasons.Length, stoppingToken);
                }
            }

            progress.Show(1, "");
        }
        catch (Exception failure) when (failure is not OperationCanceledException)
        {
            LogFailed(failure);
            progress.Show(progress.Share, "The older past could not be loaded; the next start tries again.");
        }
    }

    private async Task LoadAsync(FleetSeason season, int index, int seasons, CancellationToken cancel)
    {
        DateTimeOffset seasonEnd = LocalCalendar.StartOf(season.To.AddDays(1), demo.Fleet.Zone);
        DateTimeOffset end = seasonEnd < demo.RecentFrom ? seasonEnd : demo.RecentFrom;
        Dictionary<string, StationId> stations = await memory.StationsAsync(cancel);
        long id = await FirstIdAsync(cancel);
        List<(StationId Station, StationSetup Setup, PastService Service)> services = [];
        foreach ((string code, StationId station) in stations)
        {
            progress.Show((index + ((double)services.Count / stations.Count)) / seasons, $"Season {season.Name} is being loaded: {code}.");
            StationSetup setup = await setups.ReadAsync(station, DemoOffset.Start, demo.Fleet.Zone, cancel)
                ?? throw new InvalidOperationException($"Station {code} has gone.");
            List<SimulatedReport> own = [];
            PastService service = await Task.Run(() => Replay(setup, season, end, own), cancel);
            await reports.WriteAsync(station, own, id, ReportsWaiting, cancel);
            id += own.Count;
            services.Add((station, setup, service));
        }

        await databases.WriteAsync(db => WritePeopleAsync(db, season, end, stations, services, cancel), cancel);
    }

    private PastService Replay(StationSetup setup, FleetSeason season, DateTimeOffset end, List<SimulatedReport> own) => ServiceReplay.Run(
        demo.Fleet,
        setup,
        new SimulationOptions(TechnicianUntil: DemoOffset.Start),
        season.From,
        end.AddDays(WorkedOffDays),
        watch.Value.Every,
        report =>
        {
            if (report.Measurements[0].At <= end)
            {
                own.Add(report);
            }
        });

    private async Task<long> FirstIdAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        long least = (await db.Database.SqlQuery<long?>($"SELECT min(id) AS Value FROM reports").ToListAsync(cancel))[0] ?? 0;
        return Math.Min(least, 0) - IdsPerSeason;
    }

    private async Task WritePeopleAsync(
        FleetDbContext db,
        FleetSeason season,
        DateTimeOffset end,
        Dictionary<string, StationId> stations,
        List<(StationId Station, StationSetup Setup, PastService Service)> services,
        CancellationToken cancel)
    {
        List<PastTicket> tickets = [.. services.SelectMany(s => s.Service.Tickets).Where(ticket => ticket.Raised < end).OrderBy(ticket => ticket.Raised)];
        int least = await db.Tickets.MinAsync(ticket => (int?)ticket.Number, cancel) ?? LoadRecentPast.FirstTicketNumber;
        await DemoTickets.AddAsync(db, stations, tickets, Math.Min(least, LoadRecentPast.FirstTicketNumber) - tickets.Count, cancel);
        string who = (await DemoTickets.TechnicianAsync(db, cancel)).DisplayName;
        foreach ((StationId station, StationSetup setup, PastService service) in services)
        {
            await DemoTickets.AddVisitsAsync(db, station, null, [.. service.OtherVisits.Where(visit => visit.At < end)], who, cancel);
            db.AddRange(service.PumpOuts.Where(seen => seen.At < end).Select(seen => PumpOut.Seen(station, seen, setup.Tank)));
        }

        // What was at the laboratory when the newest month began is still there: some results are overdue.
        DateTimeOffset returned = end < DemoOffset.Start.AddDays(-60) ? DemoOffset.Start : end;
        await DemoSamples.AddAsync(db, stations, LocalCalendar.StartOf(season.From, TimeZoneInfo.Utc), end, returned, null, cancel);
        await counts.AddAsync(db, stations, LocalCalendar.StartOf(season.From, demo.Fleet.Zone), end, cancel);
        await DemoMemory.NoteLoadedAsync(db, season, cancel);
    }

    [LoggerMessage(3103, LogLevel.Error, "The demo's older past could not be loaded.")]
    private partial void LogFailed(Exception failure);
}
