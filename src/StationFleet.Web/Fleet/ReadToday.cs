using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet;

/// <summary>Answers the morning's question: which stations work, which need someone, and why.</summary>
public sealed class ReadToday(
    IDbContextFactory<FleetDbContext> databases, ReadStationStates states, ReadFleetRows rows, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <summary>A ticket that somebody has to drive for.</summary>
    public sealed record Need(int Number, string Station, string Place, string Sentence, DateTimeOffset Raised, string Who);

    /// <summary>A problem that is coming.</summary>
    public sealed record Coming(string Station, string Sentence);

    /// <summary>The whole page.</summary>
    public sealed record View(
        DateTimeOffset Now, string ZoneId, string Headline, IReadOnlyList<Need> Needs, IReadOnlyList<Coming> Coming, IReadOnlyList<FleetRow> Stations)
    {
        [JsonIgnore]
        public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(ZoneId);
    }

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        FleetOptions fleet = options.Value;
        Dictionary<StationId, ReadStationStates.State> stations = (await states.HandleAsync(viewer, cancel)).ToDictionary(state => state.Id);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);

        var open = await db.Tickets
            .Where(ticket => ticket.State != TicketState.Closed && (ticket.SnoozedUntil == null || ticket.SnoozedUntil <= now))
            .OrderBy(ticket => ticket.Raised)
            .Select(ticket => new
            {
                ticket.Number,
                ticket.StationId,
                ticket.Evidence,
                ticket.Raised,
                ticket.State,
                Taker = db.Users.Where(user => user.Id == ticket.TakenById).Select(user => user.DisplayName).FirstOrDefault(),
            })
            .ToListAsync(cancel);
        var soon = await db.Problems.AsNoTracking().Where(problem => problem.Urgency == Urgency.DueSoon).OrderBy(problem => problem.Since).ToListAsync(cancel);

        string Sentence(string evidence, Urgency urgency, TimeZoneInfo zone) =>
            ProblemSentences.Sentence(WatchJson.Read<Evidence>(evidence), urgency, new Reader(fleet.Units, zone, now));

        return new View(
            now,
            fleet.TimeZone,
            FleetHeadline.Of([.. stations.Values.Select(station => station.Condition)]),
            [.. open.Where(ticket => stations.ContainsKey(ticket.StationId)).Select(ticket =>
            {
                ReadStationStates.State station = stations[ticket.StationId];
                string who = ticket.State == TicketState.Taken ? $"taken by {ticket.Taker}" : "new";
                return new Need(ticket.Number, station.Code, station.Place, Sentence(ticket.Evidence, Urgency.NeedsVisit, station.Zone), ticket.Raised, who);
            }).OrderBy(need => need.Station, StringComparer.Ordinal)],
            [.. soon.Where(problem => stations.ContainsKey(problem.StationId)).Select(problem =>
                new Coming(stations[problem.StationId].Code, Sentence(problem.Evidence, problem.Urgency, stations[problem.StationId].Zone)))],
            await rows.HandleAsync(stations.Values, cancel));
    }
}
