using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>
/// Watches one station up to now: reads what is new, lets the engine judge it, and writes what follows in one short transaction.
/// A restart goes on from the position that this transaction wrote.
/// </summary>
internal sealed class WatchStation(
    IDbContextFactory<FleetDbContext> databases,
    StationSetupReader setups,
    MeasurementReader measurements,
    TicketMailer mailer,
    IOptions<WatchOptions> options,
    IOptions<FleetOptions> fleet)
{
    private const int ReportsAtOnce = 1000;

    /// <returns>How many tickets were raised or reopened.</returns>
    public async Task<int> HandleAsync(StationId station, DateTimeOffset now, SilentTogether? together, CancellationToken cancel)
    {
        if (await setups.ReadAsync(station, now, fleet.Value.Zone, cancel) is not { } setup)
        {
            return 0;
        }

        setup = setup with { SilentTogether = together };
        int raised = 0;
        while (true)
        {
            (long lastReport, WatchState state) = await PositionAsync(station, setup, cancel);
            IReadOnlyList<ReceivedReport> reports = await measurements.NewReportsAsync(station, lastReport, ReportsAtOnce, cancel);

            // As long as more reports wait, nothing may be judged that they could still speak to.
            bool isMoreWaiting = reports.Count == ReportsAtOnce;
            DateTimeOffset newest = isMoreWaiting ? reports.Max(report => report.Received) : now;
            WatchReport[] arrived = [.. reports.Select(report => new WatchReport(report.Received, report.Measurements))];
            WatchEngine engine = new(setup, state, options.Value.Every);
            WatchHistory history = engine.HistoryNeeded(arrived) is { } needed
                ? await HistoryAsync(station, setup, needed, lastReport, cancel)
                : WatchHistory.After(state);
            WatchResult result = engine.Run(arrived, newest < now ? newest : now, history);

            long position = result.Taken > 0 ? reports[result.Taken - 1].Id : lastReport;
            WatchFindings findings = new(station, setup, state.EvaluatedTo, position, engine.State, result, now);
            raised += await databases.WriteAsync(db => findings.WriteAsync(db, mailer, cancel), cancel);
            if (!isMoreWaiting || result.Taken == 0)
            {
                return raised;
            }
        }
    }

    private async Task<(long LastReport, WatchState State)> PositionAsync(StationId station, StationSetup setup, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        WatchPosition? position = await db.WatchPositions.AsNoTracking().SingleOrDefaultAsync(p => p.StationId == station, cancel);
        return position is null
            ? (0, WatchState.StartingAt(setup.Created))
            : (position.LastReportId, WatchJson.Read<WatchState>(position.State));
    }

    private async Task<WatchHistory> HistoryAsync(
        StationId station, StationSetup setup, DateTimeOffset needed, long lastReport, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<WatchCheckpoint> kept = db.WatchCheckpoints.AsNoTracking().Where(checkpoint => checkpoint.StationId == station);
        DateTimeOffset? from = await kept.Where(checkpoint => checkpoint.AsOf <= needed)
            .MaxAsync(checkpoint => (DateTimeOffset?)checkpoint.AsOf, cancel);
        List<WatchCheckpoint> checkpoints = await kept.Where(checkpoint => from == null || checkpoint.AsOf >= from).ToListAsync(cancel);

        // Measurements from before the station existed were set aside, so none is missing from its first instant on.
        IReadOnlyList<Measurement> known = await measurements.KnownSinceAsync(station, from ?? setup.Created, lastReport, cancel);
        return new WatchHistory(
            from, known, checkpoints.Select(c => new FactsCheckpoint(c.Day, c.AsOf, WatchJson.Read<StationFacts>(c.State))));
    }
}
