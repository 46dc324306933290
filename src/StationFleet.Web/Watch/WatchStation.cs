using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;

namespace StationFleet.Web.Watch;

/// <summary>
/// Watches one station up to now: reads what is new, lets the engine judge it, and writes what follows in one short transaction.
/// A restart goes on from the position that this transaction wrote.
/// </summary>
internal sealed class WatchStation(
    IDbContextFactory<FleetDbContext> databases,
    MeasurementReader measurements,
    IOptions<WatchOptions> options)
{
    private const int ReportsAtOnce = 1000;

    /// <summary>A station to watch.</summary>
    /// <param name="Station">Which one.</param>
    /// <param name="Setup">Its setup now.</param>
    /// <param name="Position">How far the watch has got with it; null: it begins.</param>
    /// <param name="Problems">The problems that are on.</param>
    internal sealed record Subject(StationId Station, StationSetup Setup, WatchPosition? Position, IReadOnlyList<ProblemRow> Problems);

    /// <param name="subject">The station.</param>
    /// <param name="now">The present instant.</param>
    /// <param name="cancel">Stops between two transactions.</param>
    /// <returns>How many tickets were raised or reopened, and findings that change nothing but the position: the caller writes them.</returns>
    public async Task<(int Raised, WatchFindings? Uneventful)> HandleAsync(
        Subject subject, DateTimeOffset now, CancellationToken cancel)
    {
        (StationId station, StationSetup setup, WatchPosition? position, IReadOnlyList<ProblemRow> problems) = subject;
        int raised = 0;
        long lastReport = position?.LastReportId ?? 0;
        WatchState state = position is null ? WatchState.StartingAt(setup.Created) : WatchJson.Read<WatchState>(position.State);
        StationAhead? ahead = position?.Ahead is { } json ? WatchJson.Read<StationAhead>(json) : null;
        while (true)
        {
            IReadOnlyList<ReceivedReport> reports = await measurements.NewReportsAsync(station, lastReport, ReportsAtOnce, cancel);

            // As long as more reports wait, nothing may be judged that they could still speak to.
            bool isMoreWaiting = reports.Count == ReportsAtOnce;
            DateTimeOffset newest = isMoreWaiting ? reports.Max(report => report.Received) : now;
            WatchReport[] arrived = [.. reports.Select(report => report.ToWatch())];
            WatchEngine engine = new(setup, state, options.Value.Every);
            WatchHistory history = engine.HistoryNeeded(arrived) is { } needed
                ? await HistoryAsync(station, setup, needed, lastReport, cancel)
                : WatchHistory.After(state);
            WatchResult result = engine.Run(arrived, newest < now ? newest : now, history);

            lastReport = result.Taken > 0 ? reports[result.Taken - 1].Id : lastReport;
            ahead = engine.Ahead(ahead, newest < now ? newest : now);
            WatchFindings findings = new(station, setup, state.EvaluatedTo, lastReport, engine.State, ahead, result, now);
            bool isLast = !isMoreWaiting || result.Taken == 0;
            if (isLast && position is not null && raised == 0 && findings.IsUneventful(problems))
            {
                return (0, findings);
            }

            raised += await databases.WriteAsync(db => findings.WriteAsync(db, cancel), cancel);
            state = findings.State;
            if (isLast)
            {
                return (raised, null);
            }
        }
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
