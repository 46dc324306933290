using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Watch;

/// <summary>The limits of the watch at every station, and who changed them when and why.</summary>
public sealed class ReadRules(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options, IOptions<SeasonOptions> seasons)
{
    private const int HistoryLength = 100;

    /// <param name="Id">The station.</param>
    /// <param name="Code">Its code.</param>
    /// <param name="Settings">Its limits.</param>
    /// <param name="Seasons">The years whose season new limits can be tried on, newest first.</param>
    public sealed record Row(StationId Id, string Code, RuleSettings Settings, IReadOnlyList<int> Seasons);

    public sealed record Change(string Code, DateTimeOffset At, string Who, string Reason, IReadOnlyList<string> Changed);

    public sealed record View(
        bool MayChange, DateTimeOffset Now, string ZoneId, IReadOnlyList<Row> Stations, IReadOnlyList<Change> History);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var stations = await db.Stations.VisibleTo(viewer).OrderBy(station => station.Code).Select(station => new { station.Id, station.Code, station.Created }).ToListAsync(cancel);
        Dictionary<StationId, StationRules> rules = await db.StationRules.AsNoTracking().ToDictionaryAsync(row => row.StationId, cancel);
        List<RuleChange> changes = await db.RuleChanges.AsNoTracking()
            .Where(change => db.Stations.VisibleTo(viewer).Any(station => station.Id == change.StationId))
            .OrderByDescending(change => change.At).ThenByDescending(change => change.Id)
            .ToListAsync(cancel);
        DateTimeOffset now = clock.GetUtcNow();
        Dictionary<StationId, string> codes = stations.ToDictionary(station => station.Id, station => station.Code);
        return new View(
            viewer.MayChangeFleet(),
            now,
            options.Value.TimeZone,
            [.. stations.Select(station => new Row(
                station.Id,
                station.Code,
                rules.GetValueOrDefault(station.Id)?.Settings ?? RuleSettings.Default,
                seasons.Value.Begun(station.Created, now, options.Value.Zone)))],
            History(changes, codes));
    }

    private static List<Change> History(List<RuleChange> newestFirst, Dictionary<StationId, string> codes)
    {
        Dictionary<int, IReadOnlyList<string>> changed = [];
        foreach (IGrouping<StationId, RuleChange> ofStation in newestFirst.GroupBy(change => change.StationId))
        {
            RuleSettings before = RuleSettings.Default;
            foreach (RuleChange change in ofStation.Reverse())
            {
                RuleSettings after = JsonSerializer.Deserialize<RuleSettings>(change.Settings) ?? RuleSettings.Default;
                changed[change.Id] = RuleTexts.Differences(before, after);
                before = after;
            }
        }

        return [.. newestFirst.Take(HistoryLength).Select(change => new Change(
            codes[change.StationId], change.At, change.Who, change.Reason, changed[change.Id]))];
    }
}
