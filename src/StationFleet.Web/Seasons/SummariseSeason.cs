using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Seasons;

/// <summary>A season's figures of the stations that a person sees: all of them, or one.</summary>
public sealed class SummariseSeason(
    IDbContextFactory<FleetDbContext> databases,
    SeasonReader reader,
    SetAsideReader setAside,
    FleetClock clock,
    IOptions<SeasonOptions> seasons,
    IOptions<FleetOptions> fleet)
{
    /// <param name="Year">The season's year; null takes the newest that has begun.</param>
    /// <param name="Station">A station's code; null or empty takes all.</param>
    /// <param name="From">With <paramref name="To"/>, the first day of any days instead of a season.</param>
    /// <param name="To">The last of them.</param>
    /// <param name="Award">An award's number: only the stations that its reports tell of; null or empty takes all.</param>
    /// <param name="Owner">An agency's name: only the stations that it owns; null or empty takes all.</param>
    public sealed record Query(
        int? Year, string? Station, DateOnly? From = null, DateOnly? To = null, string? Award = null, string? Owner = null)
    {
        /// <summary>The year before is not needed, as in a file.</summary>
        public bool WithoutComparison { get; init; }

        /// <summary>The question as an address carries it.</summary>
        public string Address
        {
            get
            {
                IEnumerable<(string Name, string? Value)> parts =
                [
                    ("year", From is null ? Year?.ToString(CultureInfo.InvariantCulture) : null),
                    ("from", From?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
                    ("to", To?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
                    ("station", Station), ("award", Award), ("owner", Owner),
                ];
                return "?" + string.Join('&', parts.Where(part => !string.IsNullOrEmpty(part.Value)).Select(part => $"{part.Name}={Uri.EscapeDataString(part.Value!)}"));
            }
        }
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <param name="Summary">The figures.</param>
        /// <param name="Years">The years that can be asked for, newest first.</param>
        /// <param name="Codes">The stations that can be asked for.</param>
        public sealed record Summarised(SeasonSummary Summary, IReadOnlyList<int> Years, IReadOnlyList<string> Codes) : Outcome
        {
            /// <summary>The awards that can be asked for.</summary>
            public IReadOnlyList<string> Awards { get; init; } = [];

            /// <summary>The owners that can be asked for.</summary>
            public IReadOnlyList<string> Owners { get; init; } = [];

            /// <summary>Says which stations' figures stand in the reports of several awards; empty when none do.</summary>
            public string Shared { get; init; } = "";

            /// <summary>The same stations on the same days of the year before; null when none existed then.</summary>
            public SeasonSummary? Before { get; init; }

            /// <summary>What is to be known of the data.</summary>
            public IReadOnlyList<(string Station, IReadOnlyList<string> Sentences)> Quality { get; init; } = [];
        }

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

        Choices choices = await ChoicesAsync(viewer, cancel);
        StationId[] chosen =
        [
            .. stations.Where(station => (string.IsNullOrEmpty(query.Station) || station.Code == query.Station)
                && (string.IsNullOrEmpty(query.Award) || choices.Awards[query.Award].Contains(station.Id))
                && (string.IsNullOrEmpty(query.Owner) || choices.Owners[query.Owner].Contains(station.Id))).Select(s => s.Id),
        ];
        if (chosen.Length == 0 && !(string.IsNullOrEmpty(query.Station) && string.IsNullOrEmpty(query.Award) && string.IsNullOrEmpty(query.Owner)))
        {
            return new Outcome.NoSuchStation();
        }

        Season season = query is { From: { } from, To: { } to } ? Season.Range(from, to < from ? from : to) : seasons.Value.Of(query.Year ?? years[0]);
        SeasonInput input = await reader.ReadAsync(chosen, season, now, cancel);
        SeasonSummary summary = SeasonSummary.Of(input);
        return new Outcome.Summarised(summary, years, [.. stations.Select(station => station.Code)])
        {
            Awards = [.. choices.Awards.Select(award => award.Key)],
            Owners = [.. choices.Owners.Select(owner => owner.Key)],
            Shared = SharedIn(choices, stations.Where(station => chosen.Contains(station.Id)).Select(station => (station.Id, station.Code))),
            Before = query.WithoutComparison || !stations.Any(station => chosen.Contains(station.Id) && LocalCalendar.DateOf(station.Created, fleet.Value.Zone) <= season.YearBefore.LastDay)
                ? null
                : SeasonSummary.Of(await reader.ReadAsync(chosen, season.YearBefore, now.AddYears(-1), cancel)),
            Quality = SeasonQuality.Of(summary, await setAside.CountsAsync(chosen, StartOf(season.FirstDay), StartOf(season.LastDay.AddDays(1)), cancel)),
        };
    }

    private sealed record Choices(ILookup<string, StationId> Awards, ILookup<string, StationId> Owners);

    private DateTimeOffset StartOf(DateOnly day) => LocalCalendar.StartOf(day, fleet.Value.Zone);

    private async Task<Choices> ChoicesAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var awards = await db.AwardStations.Where(row => db.Stations.VisibleTo(viewer).Any(station => station.Id == row.StationId))
            .Join(db.Awards, row => row.AwardId, award => award.Id, (row, award) => new { award.Number, row.StationId }).OrderBy(row => row.Number).ToListAsync(cancel);
        var owners = await db.Stations.VisibleTo(viewer)
            .Join(db.Agencies, station => station.OwnerId, agency => agency.Id, (station, agency) => new { agency.Name, station.Id }).OrderBy(row => row.Name).ToListAsync(cancel);
        return new Choices(awards.ToLookup(row => row.Number, row => row.StationId), owners.ToLookup(row => row.Name, row => row.Id));
    }

    // A station that several awards count stands in each of their reports.
    private static string SharedIn(Choices choices, IEnumerable<(StationId Id, string Code)> stations)
    {
        string[] shared =
        [
            .. stations.Select(station => (station.Code, Awards: choices.Awards.Where(award => award.Contains(station.Id)).Select(award => award.Key).ToArray()))
                .Where(station => station.Awards.Length > 1).Select(station => $"{station.Code} in {string.Join(" and ", station.Awards)}"),
        ];
        return shared.Length == 0 ? "" : $"Jointly funded: the figures of {string.Join(", of ", shared)}. Do not add them up over awards.";
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
