using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Duty;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Watch;

/// <summary>Watches every station up to now, and tells people; what goes wrong at one station does not stop the others.</summary>
internal sealed partial class RunWatch(
    IDbContextFactory<FleetDbContext> databases,
    StationSetupReader setups,
    NoteServerAlive alive,
    MeasurementReader measurements,
    WatchStation watchStation,
    CallPeople call,
    FleetClock clock,
    IOptions<FleetOptions> fleet,
    ILogger<RunWatch> logger)
{
    private const int PositionsAtOnce = 200;
    private const double UsualRatio = 0.95;

    /// <summary>What a run did.</summary>
    internal sealed record Outcome(int Stations, int Failed, int Raised);

    public async Task<Outcome> HandleAsync(CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        (int failed, int raised) = (0, 0);
        await alive.HandleAsync(now, cancel);
        IReadOnlyList<WatchStation.Subject> subjects = await SubjectsAsync(now, cancel);
        List<WatchFindings> uneventful = [];
        foreach (WatchStation.Subject subject in subjects)
        {
            try
            {
                (int own, WatchFindings? nothing) = await watchStation.HandleAsync(subject, now, cancel);
                raised += own;
                uneventful.AddRange(nothing is null ? [] : [nothing]);
            }
            catch (Exception failure) when (failure is not OperationCanceledException || !cancel.IsCancellationRequested)
            {
                failed++;
                LogFailed(subject.Station.Value, failure);
            }

            if (uneventful.Count >= PositionsAtOnce)
            {
                await MovePositionsAsync(uneventful, cancel);
            }
        }

        await MovePositionsAsync(uneventful, cancel);
        await call.HandleAsync(cancel);
        if (raised > 0)
        {
            LogRaised(raised);
        }

        return new Outcome(subjects.Count, failed, raised);
    }

    private async Task<IReadOnlyList<WatchStation.Subject>> SubjectsAsync(DateTimeOffset now, CancellationToken cancel)
    {
        IReadOnlyDictionary<StationId, StationSetup> known = await setups.ReadAllAsync(now, fleet.Value.Zone, cancel);
        SilentTogether? together = await SilentTogetherAsync(known, now, cancel);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Dictionary<StationId, WatchPosition> positions = await db.WatchPositions.AsNoTracking().ToDictionaryAsync(row => row.StationId, cancel);
        ILookup<StationId, ProblemRow> problems = (await db.Problems.AsNoTracking().ToListAsync(cancel)).ToLookup(problem => problem.StationId);
        return
        [
            .. known.Select(station => new WatchStation.Subject(
                station.Key,
                station.Value with { SilentTogether = together, NeighbourPanels = NeighboursOf(station.Key, known, positions, now) },
                positions.GetValueOrDefault(station.Key),
                [.. problems[station.Key]])),
        ];
    }

    // Others matter only to a station whose own panel gives less: haze is in all of them.
    private static NeighbourPanels? NeighboursOf(
        StationId station, IReadOnlyDictionary<StationId, StationSetup> known, Dictionary<StationId, WatchPosition> positions, DateTimeOffset now)
    {
        if (positions.GetValueOrDefault(station)?.PanelRatio is not < UsualRatio || PlaceOf(known[station], now) is not { } here)
        {
            return null;
        }

        return NeighbourPanels.Of(
        [
            .. from other in positions.Values
               where other.StationId != station && other.PanelRatio is not null && known.ContainsKey(other.StationId)
               let place = PlaceOf(known[other.StationId], now)
               where place is not null && MovedStation.DistanceMetres(
                   here.LatitudeDeg, here.LongitudeDeg, place.LatitudeDeg, place.LongitudeDeg) <= NeighbourPanels.WithinMetres
               select other.PanelRatio!.Value,
        ]);
    }

    private static StandingPlace? PlaceOf(StationSetup setup, DateTimeOffset now) => setup.Places.LastOrDefault(place => place.Contains(now));

    // Among those that stand somewhere and are not laid up.
    private async Task<SilentTogether?> SilentTogetherAsync(
        IReadOnlyDictionary<StationId, StationSetup> stations, DateTimeOffset now, CancellationToken cancel)
    {
        IReadOnlyDictionary<StationId, DateTimeOffset> heard = await measurements.LastHeardAsync(cancel);
        return SilentTogether.Find(
            [
                .. from station in stations
                   where heard.ContainsKey(station.Key)
                       && !station.Value.Quiet.Any(quiet => quiet.Reason != QuietReason.AccessClosed && quiet.Contains(now))
                   select (station.Value.Code, heard[station.Key]),
            ],
            now);
    }

    private async Task MovePositionsAsync(List<WatchFindings> uneventful, CancellationToken cancel)
    {
        if (uneventful.Count > 0)
        {
            await databases.WriteAsync(db => WatchFindings.MovePositionsAsync(db, uneventful, cancel), cancel);
            uneventful.Clear();
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The watch over station {Station} failed; it is tried again next time.")]
    private partial void LogFailed(int station, Exception failure);

    [LoggerMessage(Level = LogLevel.Information, Message = "The watch raised or reopened {Count} tickets.")]
    private partial void LogRaised(int count);
}
