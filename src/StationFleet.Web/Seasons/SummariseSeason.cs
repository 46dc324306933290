using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Seasons;

/// <summary>A season's figures of the stations that a person sees: all of them, or one.</summary>
public sealed class SummariseSeason(
    IDbContextFactory<FleetDbContext> databases,
    SeasonReader reader,
    FleetClock clock,
    IOptions<SeasonOptions> seasons,
    IOptions<FleetOptions> fleet)
{
    /// <param name="Year">The season's year; null takes the newest that has begun.</param>
    /// <param name="Station">A station's code; null or empty takes all.</param>
    public sealed record Query(int? Year, string? Station);

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <param name="Summary">The figures.</param>
        /// <param name="Years">The years that can be asked for, newest first.</param>
        /// <param name="Codes">The stations that can be asked for.</param>
        public sealed record Summarised(SeasonSummary Summary, IReadOnlyList<int> Years, IReadOnlyList<string> Codes) : Outcome;

        /// <summary>The person sees no such station.</summary>
        public sealed record NoSuchStation : Outcome;

        /// <summary>No station existed in that year, or its season has not begun.</summary>
        public sealed record NoSuchYear : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        DateTimeOffset now = clock.GetUtcNow();
        (StationId Id, string Code, DateTimeOffset Created)[] stations = await StationsAsync(viewer, cancel);
        int[] years = Years(stations.Select(station => station.Created), now);
        if (query.Year is { } asked && !years.Contains(asked))
        {
            return new Outcome.NoSuchYear();
        }

        StationId[] chosen = [.. stations.Where(station => string.IsNullOrEmpty(query.Station) || station.Code == query.Station).Select(s => s.Id)];
        if (chosen.Length == 0 && !string.IsNullOrEmpty(query.Station))
        {
            return new Outcome.NoSuchStation();
        }

        Season season = seasons.Value.Of(query.Year ?? years[0]);
        SeasonInput input = await reader.ReadAsync(chosen, season, now, cancel);
        return new Outcome.Summarised(SeasonSummary.Of(input), years, [.. stations.Select(station => station.Code)]);
    }

    private async Task<(StationId Id, string Code, DateTimeOffset Created)[]> StationsAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var stations = await db.Stations.VisibleTo(viewer).OrderBy(station => station.Code)
            .Select(station => new { station.Id, station.Code, station.Created }).ToListAsync(cancel);
        return [.. stations.Select(station => (station.Id, station.Code, station.Created))];
    }

    // From the first station's year to the newest season that has begun.
    private int[] Years(IEnumerable<DateTimeOffset> created, DateTimeOffset now)
    {
        TimeZoneInfo zone = fleet.Value.Zone;
        DateOnly today = LocalCalendar.DateOf(now, zone);
        int newest = seasons.Value.NewestYear(today);
        int oldest = Math.Min(newest, created.Select(at => LocalCalendar.DateOf(at, zone).Year).DefaultIfEmpty(newest).Min());
        return [.. Enumerable.Range(oldest, newest - oldest + 1).Reverse()];
    }
}
