using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Boaters;
using StationFleet.Web.Grants;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;

namespace StationFleet.Web.Fleet;

/// <summary>Answers the morning's question: which stations work, which need someone, and why.</summary>
public sealed class ReadToday(
    IDbContextFactory<FleetDbContext> databases, ReadStationStates states, ReadFleetRows rows, TicketList tickets, ReadDueDates dueDates, ReadWeekAhead week, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <summary>A ticket that somebody has to drive for.</summary>
    public sealed record Need(int Number, string Station, string Place, string Sentence, string Since, string Who);

    /// <summary>A problem that is coming, or an award's report.</summary>
    public sealed record Coming(string Station, string Sentence);

    /// <summary>The whole page.</summary>
    public sealed record View(
        DateTimeOffset Now, string ZoneId, string Headline, IReadOnlyList<Need> Needs, IReadOnlyList<Coming> Coming, ReadWeekAhead.View Week, IReadOnlyList<FleetRow> Stations)
    {
        /// <summary>How many reports of boaters wait for a person.</summary>
        public int FromBoaters { get; init; }

        [JsonIgnore]
        public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(ZoneId);
    }

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        FleetOptions fleet = options.Value;
        DateOnly today = LocalCalendar.DateOf(now, fleet.Zone);
        Dictionary<StationId, ReadStationStates.State> stations = (await states.HandleAsync(viewer, cancel)).ToDictionary(state => state.Id);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);

        IReadOnlyList<TicketRow> open = await tickets.ReadAsync(
            db,
            TicketList.NeedingVisit(TicketList.VisibleTo(db, viewer), now).OrderBy(ticket => ticket.Raised),
            viewer,
            cancel);
        var soon = await db.Problems.AsNoTracking().Where(problem => problem.Urgency == Urgency.DueSoon).OrderBy(problem => problem.Since).ToListAsync(cancel);

        return new View(
            now,
            fleet.TimeZone,
            FleetHeadline.Of([.. stations.Values.Select(station => station.Condition)]),
            [.. open.OrderBy(ticket => ticket.Station, StringComparer.Ordinal).Select(ticket => new Need(
                ticket.Number, ticket.Station, stations[ticket.StationId].Place, ticket.Why, ticket.Since,
                TicketWords.State(ticket.State, ticket.TakenBy, isYou: false)))],
            [
                .. soon.Where(problem => stations.ContainsKey(problem.StationId)).Select(problem =>
                    new Coming(
                    stations[problem.StationId].Code,
                    ProblemSentences.Sentence(
                        WatchJson.Read<Evidence>(problem.Evidence), problem.Urgency, new Reader(fleet.Units, stations[problem.StationId].Zone, now)))),
                .. (await dueDates.HandleAsync(viewer, today.AddDays(Reminders.DaysBefore[0]), cancel)).Select(due =>
                    new Coming(due.Number, $"{due.What} {GrantWords.Due(due.Due, today)}.")),
            ],
            await week.HandleAsync(viewer, stations.Values, fleet.Zone, fleet.Units, now, cancel),
            await rows.HandleAsync(stations.Values, cancel))
        {
            FromBoaters = await ListPublicReports.VisibleTo(db, viewer).CountAsync(report => report.State == PublicReportState.Waiting, cancel),
        };
    }
}
