using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Seasons;

/// <summary>What a season is asked for: all stations, or those that every part which is named agrees on.</summary>
/// <param name="Stations">Stations' codes; empty takes all.</param>
/// <param name="Access">An access's name in addresses: only what happened there; empty takes all.</param>
/// <param name="Award">An award's number: only the stations that its reports tell of; empty takes all.</param>
/// <param name="Owner">An agency's name: only the stations that it owns; empty takes all.</param>
public sealed record SeasonPart(IReadOnlyCollection<string> Stations, string? Access, string? Award, string? Owner);

/// <summary>The stations of a part.</summary>
/// <param name="Stations">The stations to count.</param>
/// <param name="Access">Only what happened at this access; null takes all.</param>
/// <param name="Only">What they were chosen by, in words; empty for all.</param>
/// <param name="Shared">Says which stations' figures stand in the reports of several awards; empty when none do.</param>
public sealed record SeasonScope(IReadOnlyList<SeasonChoices.Counted> Stations, AccessId? Access, string Only, string Shared)
{
    /// <summary>The stations to count.</summary>
    public IReadOnlyList<StationId> Ids => [.. Stations.Select(station => station.Id)];
}

/// <summary>What a season can be cut to: the stations that somebody sees, with their accesses, awards and owners.</summary>
public sealed class SeasonChoices
{
    private readonly ILookup<string, StationId> _awards;
    private readonly ILookup<string, StationId> _owners;
    private readonly ILookup<string, StationId> _stood;

    private SeasonChoices(
        IReadOnlyList<Counted> stations, IReadOnlyList<Access> accesses, ILookup<string, StationId> awards, ILookup<string, StationId> owners, ILookup<string, StationId> stood) =>
        (Stations, Accesses, _awards, _owners, _stood) = (stations, accesses, awards, owners, stood);

    /// <summary>A station that can be asked for.</summary>
    public sealed record Counted(StationId Id, string Code, DateTimeOffset Created);

    /// <summary>The stations, by code.</summary>
    public IReadOnlyList<Counted> Stations { get; }

    /// <summary>The accesses at which one of them ever stood, by name.</summary>
    public IReadOnlyList<Access> Accesses { get; }

    /// <summary>The awards' numbers.</summary>
    public IReadOnlyList<string> Awards => [.. _awards.Select(award => award.Key)];

    /// <summary>The owners' names.</summary>
    public IReadOnlyList<string> Owners => [.. _owners.Select(owner => owner.Key)];

    /// <summary>Reads what can be asked for.</summary>
    /// <param name="db">The database.</param>
    /// <param name="visible">The stations that somebody sees.</param>
    /// <param name="cancel">Stops the reading.</param>
    public static async Task<SeasonChoices> ReadAsync(FleetDbContext db, IQueryable<Station> visible, CancellationToken cancel)
    {
        List<Counted> stations = await visible.OrderBy(station => station.Code).Select(station => new Counted(station.Id, station.Code, station.Created)).ToListAsync(cancel);
        var awards = await db.AwardStations.Where(row => visible.Any(station => station.Id == row.StationId))
            .Join(db.Awards, row => row.AwardId, award => award.Id, (row, award) => new { award.Number, row.StationId }).OrderBy(row => row.Number).ToListAsync(cancel);
        var owners = await visible
            .Join(db.Agencies, station => station.OwnerId, agency => agency.Id, (station, agency) => new { agency.Name, station.Id }).OrderBy(row => row.Name).ToListAsync(cancel);
        var stood = await db.Placements.Where(placement => visible.Any(station => station.Id == placement.StationId))
            .Select(placement => new { placement.AccessId, placement.StationId }).Distinct().ToListAsync(cancel);
        List<Access> accesses = await db.Accesses.AsNoTracking()
            .Where(access => db.Placements.Any(placement => placement.AccessId == access.Id && visible.Any(station => station.Id == placement.StationId)))
            .OrderBy(access => access.Name).ToListAsync(cancel);
        Dictionary<AccessId, string> slugs = accesses.ToDictionary(access => access.Id, access => access.Slug);
        return new SeasonChoices(
            stations, accesses, awards.ToLookup(row => row.Number, row => row.StationId), owners.ToLookup(row => row.Name, row => row.Id),
            stood.ToLookup(row => slugs[row.AccessId], row => row.StationId));
    }

    /// <summary>The stations of a part; null when one that is named does not exist, or they have none in common.</summary>
    public SeasonScope? Pick(SeasonPart part)
    {
        ArgumentNullException.ThrowIfNull(part);
        Access? access = string.IsNullOrEmpty(part.Access) ? null : Accesses.FirstOrDefault(each => each.Slug == part.Access);
        Counted[] chosen =
        [
            .. Stations.Where(station => (part.Stations.Count == 0 || part.Stations.Contains(station.Code))
                && (string.IsNullOrEmpty(part.Access) || _stood[part.Access].Contains(station.Id))
                && (string.IsNullOrEmpty(part.Award) || _awards[part.Award].Contains(station.Id))
                && (string.IsNullOrEmpty(part.Owner) || _owners[part.Owner].Contains(station.Id))),
        ];
        bool asksForAll = part.Stations.Count == 0 && string.IsNullOrEmpty(part.Access) && string.IsNullOrEmpty(part.Award) && string.IsNullOrEmpty(part.Owner);
        return (chosen.Length == 0 && !asksForAll) || part.Stations.Any(code => Stations.All(station => station.Code != code))
            ? null
            : new SeasonScope(chosen, access?.Id, Say(part, access), Shared(chosen));
    }

    private static string Say(SeasonPart part, Access? access) => string.Join(", ", new[]
    {
        string.Join(" and ", part.Stations), access is null ? "" : $"{access.Name}, {access.Water}",
        string.IsNullOrEmpty(part.Award) ? "" : $"award {part.Award}", string.IsNullOrEmpty(part.Owner) ? "" : $"owned by {part.Owner}",
    }.Where(words => words.Length > 0));

    // A station that several awards count stands in each of their reports.
    private string Shared(IEnumerable<Counted> stations)
    {
        string[] shared =
        [
            .. stations.Select(station => (station.Code, Awards: _awards.Where(award => award.Contains(station.Id)).Select(award => award.Key).ToArray()))
                .Where(station => station.Awards.Length > 1).Select(station => $"{station.Code} in {string.Join(" and ", station.Awards)}"),
        ];
        return shared.Length == 0 ? "" : $"Jointly funded: the figures of {string.Join(", of ", shared)}. Do not add them up over awards.";
    }
}
