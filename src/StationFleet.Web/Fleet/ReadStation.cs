using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;
using StationFleet.Web.Service.SignedLists;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Fleet;

/// <summary>Reads one station's page.</summary>
public sealed class ReadStation(
    IDbContextFactory<FleetDbContext> databases,
    ReadStationStates states,
    StationCharts charts,
    TicketList tickets,
    MeasurementReader measurements,
    ReadToolVerdicts verdicts,
    ReadPower powers,
    FleetClock clock,
    IOptions<FleetOptions> options)
{
    private const int ToolDays = 30;
    private const int TimelineDays = 60;
    private const int GapDays = 30;

    /// <summary>A tool and how it is used.</summary>
    public sealed record ToolRow(string Name, string Kind, double Yesterday, double Week, double Month, double ShareOfMonth, DateOnly? LastUseDay, string Silence, string Patience);

    /// <summary>A problem that is on, or an open ticket.</summary>
    public sealed record Concern(int? Ticket, string Sentence, string Since, string Who, bool IsSnoozed = false);

    /// <summary>Something that happened at the station.</summary>
    public sealed record Happening(DateTimeOffset At, string What, string? Detail, int? Ticket);

    /// <summary>The page.</summary>
    public sealed record View(
        string Code,
        bool IsPortable,
        string Place,
        string ZoneId,
        DateTimeOffset Now,
        StationCondition Condition,
        string Headline,
        DateTimeOffset? LastHeard,
        IReadOnlyList<Concern> Concerns,
        IReadOnlyList<ToolRow> Tools,
        string? Tank,
        string? Charge,
        string? Panel,
        string? PanelPicture,
        IReadOnlyList<LatestValue> Latest,
        IReadOnlyList<Happening> Timeline,
        IReadOnlyList<UtcInterval> Gaps,
        StationCharts.View Charts)
    {
        [JsonIgnore]
        public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(ZoneId);
    }

    /// <returns>The page, or null when the viewer sees no such station.</returns>
    public async Task<View?> HandleAsync(Viewer viewer, string code, CancellationToken cancel)
    {
        ReadStationStates.State? state = (await states.HandleAsync(viewer, cancel)).FirstOrDefault(station => station.Code == code);
        if (state is null)
        {
            return null;
        }

        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        TankHistory tank = await db.TankHistoryAsync(state.Id, cancel);
        IReadOnlyList<TankDip> dips = await db.TankDipsAsync(state.Id, tank, cancel);
        IReadOnlyList<LatestValue> latest = await measurements.LatestAsync(state.Id, cancel);
        TankWords words = new(tank, dips, options.Value.Units);
        StationAhead? expected = await db.AheadAsync(state.Id, cancel);
        ReadPower.View power = await powers.HandleAsync(state.Id, state.Zone, now, cancel);
        IReadOnlyList<Concern> concerns = await ConcernsAsync(db, viewer, state, now, cancel);
        return new View(
            state.Code,
            state.IsPortable,
            state.Place,
            state.Zone.Id,
            now,
            state.Condition,
            Headline(state, concerns.Count(concern => concern is { Ticket: not null, IsSnoozed: false })),
            state.LastHeard,
            concerns,
            await ToolsAsync(db, state, now, cancel),
            Tank(words.Now(latest, now, state.Zone), expected, new Reader(options.Value.Units, state.Zone, now)),
            power.Charge,
            power.Panel,
            power.PanelPicture,
            latest,
            await TimelineAsync(db, state, words, now, cancel),
            await GapsAsync(db, state, now, cancel),
            await charts.HandleAsync(state, expected, power.Bands, cancel));
    }

    private static string? Tank(string? holds, StationAhead? expected, Reader reader) => (holds, expected) switch
    {
        (null, _) or (_, null or { IsTankKnown: false } or { TankShare: >= 1 }) => holds,
        (_, { TankFull: { } full }) => $"{holds} It will be full {ProblemSentences.When(full, reader)}.",
        _ => $"{holds} It will be full in more than 10 days.",
    };

    private static string Headline(ReadStationStates.State state, int tickets) => state.Condition switch
    {
        StationCondition.Working => $"{state.Code} is working.",
        StationCondition.DueSoon => $"{state.Code} is working; something is due soon.",
        StationCondition.NeedsVisit => $"{state.Code} needs a visit: {NumberWords.Count(tickets)} {(tickets == 1 ? "ticket is" : "tickets are")} open.",
        StationCondition.NotReporting => $"{state.Code} is not reporting.",
        StationCondition.InTransit => $"{state.Code} is in transit.",
        StationCondition.AccessClosed => $"{state.Code} stands at a closed access: {state.Closure?.Reason}.",
        _ => $"{state.Code} is winterized.",
    };

    private async Task<IReadOnlyList<Concern>> ConcernsAsync(
        FleetDbContext db, Viewer viewer, ReadStationStates.State state, DateTimeOffset now, CancellationToken cancel)
    {
        IReadOnlyList<TicketRow> open = await tickets.ReadAsync(
            db,
            db.Tickets.Where(ticket => ticket.StationId == state.Id && ticket.State != TicketState.Closed).OrderBy(ticket => ticket.Raised),
            viewer,
            cancel);
        var soon = await db.Problems.AsNoTracking()
            .Where(problem => problem.StationId == state.Id && problem.Urgency == Urgency.DueSoon).ToListAsync(cancel);
        return
        [
            .. open.Select(ticket => new Concern(
                ticket.Number, ticket.Why, ticket.Since,
                ticket.Snooze is { } snooze ? $"snoozed until {snooze.Day}" : TicketWords.State(ticket.State, ticket.TakenBy, isYou: false),
                ticket.Snooze is not null)),
            .. soon.Select(problem => new Concern(
                null,
                ProblemSentences.Sentence(
                    WatchJson.Read<Evidence>(problem.Evidence), problem.Urgency, new Reader(options.Value.Units, state.Zone, now)),
                SpokenTime.At(problem.Since, now, state.Zone),
                "due soon")),
        ];
    }

    private async Task<IReadOnlyList<ToolRow>> ToolsAsync(FleetDbContext db, ReadStationStates.State state, DateTimeOffset now, CancellationToken cancel)
    {
        List<Tool> tools = await db.Tools.AsNoTracking()
            .Where(tool => tool.StationId == state.Id && (tool.Removed == null || tool.Removed > now)).ToListAsync(cancel);
        DateOnly today = LocalCalendar.DateOf(now, state.Zone);
        string[] names = [.. tools.Select(tool => MeasurementName.Uses(tool.Slug))];
        ILookup<string, DayRollUp> days = (await measurements.DaysAsync([state.Id], names, today.AddDays(-ToolDays), today, cancel))
            .ToLookup(row => row.Name, row => row.RollUp);
        IReadOnlyDictionary<string, IdleVerdict?> known = await verdicts.HandleAsync(state.Id, now, cancel);
        double all = days.Sum(tool => tool.Sum(day => day.Figures.Gained));
        return [.. tools.Select(tool =>
        {
            IEnumerable<DayRollUp> used = days[MeasurementName.Uses(tool.Slug)];
            double Since(int back, int until = 0) =>
                used.Where(day => day.Day >= today.AddDays(-back) && day.Day <= today.AddDays(-until)).Sum(day => day.Figures.Gained);
            double month = Since(ToolDays);
            return new ToolRow(
                tool.Name, tool.Kind.ToString(), Since(1, 1), Since(7), month, all > 0 ? month / all : 0,
                used.Where(day => day.Figures.Gained > 0).Select(day => (DateOnly?)day.Day).Max(),
                IdleWords.Silence(known.GetValueOrDefault(tool.Slug)),
                IdleWords.Patience(known.GetValueOrDefault(tool.Slug)));
        }).OrderByDescending(tool => tool.Month)];
    }

    private async Task<IReadOnlyList<UtcInterval>> GapsAsync(FleetDbContext db, ReadStationStates.State state, DateTimeOffset now, CancellationToken cancel)
    {
        DateTimeOffset created = await db.Stations.Where(station => station.Id == state.Id).Select(station => station.Created).SingleAsync(cancel);
        DateTimeOffset since = created > now.AddDays(-GapDays) ? created : now.AddDays(-GapDays);
        return since >= now ? [] : DataGaps.Of(await measurements.DataHoursAsync(state.Id, since.AddHours(-1), now, cancel), new UtcInterval(since, now));
    }

    private static async Task<IReadOnlyList<Happening>> TimelineAsync(
        FleetDbContext db, ReadStationStates.State state, TankWords words, DateTimeOffset now, CancellationToken cancel)
    {
        DateTimeOffset since = now.AddDays(-TimelineDays);
        List<Ticket> tickets = await db.Tickets.AsNoTracking().Where(t => t.StationId == state.Id && t.Raised > since).ToListAsync(cancel);
        List<ServiceVisit> visits = await db.ServiceVisits.AsNoTracking().Where(v => v.StationId == state.Id && v.At > since).ToListAsync(cancel);
        List<PumpOut> pumpOuts = await db.PumpOuts.AsNoTracking().Where(p => p.StationId == state.Id && p.At > since).ToListAsync(cancel);
        var placements = await db.Placements.AsNoTracking().Where(p => p.StationId == state.Id)
            .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (placement, access) => new { placement.From, placement.To, access.Name })
            .ToListAsync(cancel);
        List<SignedChecklist> signed = await db.SignedChecklists.AsNoTracking().Where(s => s.StationId == state.Id && s.At > since).ToListAsync(cancel);
        Happening[] all =
        [
            .. tickets.Select(t => new Happening(t.Raised, "Ticket raised", ProblemSentences.Title(WatchJson.Read<Evidence>(t.Evidence)), t.Number)),
            .. tickets.Where(t => t.Closed is not null).Select(t => new Happening(t.DoneAt ?? t.Closed!.Value, "Ticket closed", t.Outcome is { } outcome ? TicketWords.Of(outcome).TrimEnd('.').ToLowerInvariant() : null, t.Number)),
            .. visits.Select(v => new Happening(v.At, "Service visit", v.Note is { Length: > 0 } ? $"{v.Who}: {v.Note}" : v.Who, null)),
            .. words.PumpOuts(pumpOuts).Select(p => new Happening(p.At, "Pumped out", p.Words, null)),
            .. signed.Select(s => new Happening(s.At, $"{Domain.Service.SignedLists.Name(s.List)} signed", ReadSignedLists.Say(s, state.Zone), null)),
            .. placements.Where(p => p.From > since).Select(p => new Happening(p.From, "Placed", p.Name, null)),
            .. placements.Where(p => p.To > since).Select(p => new Happening(p.To!.Value, "Left", p.Name, null)),
        ];
        return [.. all.OrderByDescending(happening => happening.At)];
    }
}
