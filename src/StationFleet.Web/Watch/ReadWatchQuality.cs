using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Seasons;
using StationFleet.Web.Service;

namespace StationFleet.Web.Watch;

/// <summary>How well the watch serves people, over a period: for those who set its limits and who answer for the hours.</summary>
public sealed class ReadWatchQuality(
    IDbContextFactory<FleetDbContext> databases, TicketList tickets, FleetClock clock, IOptions<FleetOptions> fleet, IOptions<SeasonOptions> seasons)
{
    /// <summary>A problem that is on.</summary>
    public sealed record OnNow(string Station, Rule Rule, string Sentence, DateTimeOffset Since, bool NeedsVisit, int? Ticket);

    /// <summary>A choice of the period.</summary>
    public sealed record Choice(string Key, string Name);

    /// <param name="Period">The key of the period shown.</param>
    /// <param name="Choices">The periods to choose from.</param>
    /// <param name="From">From when tickets are counted: the period's beginning, or when the watch began.</param>
    /// <param name="To">Until when.</param>
    /// <param name="WatchedSince">When the oldest station that the person sees was set up; null without stations.</param>
    /// <param name="Snoozed">The tickets that are snoozed now.</param>
    /// <param name="Problems">The problems that are on now.</param>
    /// <param name="MayChange">Whether the person may change the budget.</param>
    public sealed record View(
        string Period, IReadOnlyList<Choice> Choices, DateTimeOffset Now, string ZoneId, DateTimeOffset From, DateTimeOffset To, DateTimeOffset? WatchedSince,
        WatchQuality Quality, IReadOnlyList<TicketRow> Snoozed, IReadOnlyList<OnNow> Problems, bool MayChange);

    public async Task<View> HandleAsync(Viewer viewer, string? period, CancellationToken cancel)
    {
        (DateTimeOffset now, TimeZoneInfo zone) = (clock.GetUtcNow(), fleet.Value.Zone);
        IReadOnlyList<QualityPeriod> choices = QualityPeriod.All(now, zone, seasons.Value);
        QualityPeriod chosen = choices.FirstOrDefault(choice => choice.Key == period) ?? choices[0];
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        Dictionary<StationId, string> codes = await db.Stations.VisibleTo(viewer).ToDictionaryAsync(station => station.Id, station => station.Code, cancel);
        DateTimeOffset? since = await db.Stations.VisibleTo(viewer).MinAsync(station => (DateTimeOffset?)station.Created, cancel);
        UtcInterval counted = chosen.Time;
        if (since > counted.Start)
        {
            counted = new UtcInterval(since < counted.End ? since.Value : counted.End, counted.End);
        }

        return new View(
            chosen.Key,
            [.. choices.Select(choice => new Choice(choice.Key, choice.Name))],
            now, fleet.Value.TimeZone, counted.Start, counted.End, since,
            WatchQuality.Of(
                await LivesAsync(db, viewer, counted, codes, cancel), counted, zone, await FieldBudgets.ReadAsync(db, cancel)),
            await tickets.ReadAsync(db, TicketList.Asleep(TicketList.VisibleTo(db, viewer), now).OrderBy(ticket => ticket.SnoozedUntil), viewer, cancel),
            await ProblemsAsync(db, codes, now, zone, cancel),
            SaveFieldBudget.MayChange(viewer));
    }

    private static async Task<IReadOnlyList<TicketLife>> LivesAsync(
        FleetDbContext db, Viewer viewer, UtcInterval counted, Dictionary<StationId, string> codes, CancellationToken cancel)
    {
        // A ticket of the week before can make one of this period a repeat.
        DateTimeOffset from = counted.Start - WatchQuality.RepeatWithin;
        IQueryable<Ticket> some = TicketList.VisibleTo(db, viewer)
            .Where(ticket => ticket.Rule != Rule.NewFind && ticket.Rule != Rule.SampleDue && ticket.Rule != Rule.PublicReport && ticket.Raised < counted.End && (ticket.State != TicketState.Closed || ticket.Closed >= from || ticket.DoneAt >= from));
        List<Ticket> rows = await some.OrderBy(ticket => ticket.Number).ToListAsync(cancel);
        ILookup<TicketId, TicketEvent> events = (await db.TicketEvents
            .Where(happening => some.Any(ticket => ticket.Id == happening.TicketId)).ToListAsync(cancel)).ToLookup(happening => happening.TicketId);
        return [.. rows.Select(ticket => TicketLife.Of(codes[ticket.StationId], TicketRecords.Of(ticket, events[ticket.Id]), ticket.SnoozedUntil))];
    }

    private async Task<IReadOnlyList<OnNow>> ProblemsAsync(
        FleetDbContext db, Dictionary<StationId, string> codes, DateTimeOffset now, TimeZoneInfo zone, CancellationToken cancel)
    {
        Dictionary<(StationId, Rule, string), int> open = await db.Tickets.Where(ticket => ticket.State != TicketState.Closed)
            .ToDictionaryAsync(ticket => (ticket.StationId, ticket.Rule, ticket.Part), ticket => ticket.Number, cancel);
        Reader reader = new(fleet.Value.Units, zone, now);
        return
        [
            .. from problem in await db.Problems.ToListAsync(cancel)
               where codes.ContainsKey(problem.StationId)
               orderby codes[problem.StationId], problem.Since
               select new OnNow(
                   codes[problem.StationId], problem.Rule,
                   ProblemSentences.Sentence(WatchJson.Read<Evidence>(problem.Evidence), problem.Urgency, reader),
                   problem.Since, problem.Urgency == Urgency.NeedsVisit,
                   open.TryGetValue((problem.StationId, problem.Rule, problem.Part), out int number) ? number : null),
        ];
    }
}
