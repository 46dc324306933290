using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>The samples that are planned, and what became of those of this year.</summary>
public sealed class ListPlanned(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <param name="Where">Access and water; null in transit.</param>
    /// <param name="What">Grabs and litres, in words.</param>
    /// <param name="Why">Why it is planned.</param>
    /// <param name="Stand">How it stands, in words.</param>
    /// <param name="End">How it ended; null while it is open.</param>
    /// <param name="Days">The rest of its days, counted from today; negative: so many late.</param>
    public sealed record Row(
        int Id, string Station, string? Where, DateOnly From, DateOnly Due, int? Grabs, double? LitresPerGrab, string What, string Why, string Stand,
        TakingEnd? End, int Days, int Version)
    {
        public bool IsOpen => End is null;
    }

    public sealed record Place(string Code, string? Where);

    /// <param name="Rows">The open ones by their last day, then the others, newest first.</param>
    /// <param name="Stations">For which one can be planned.</param>
    public sealed record View(DateOnly Today, IReadOnlyList<Row> Rows, IReadOnlyList<Place> Stations, bool MayPlan, bool MaySample)
    {
        public IReadOnlyList<Row> Open => [.. Rows.Where(row => row.IsOpen)];
    }

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DateOnly today = LocalCalendar.DateOf(now, options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IReadOnlyDictionary<StationId, Access> standing = await db.StandingAtAsync(now, cancel);
        Dictionary<StationId, string> codes = await db.Stations.VisibleTo(viewer).OrderBy(station => station.Code)
            .ToDictionaryAsync(station => station.Id, station => station.Code, cancel);
        Dictionary<SamplePlanId, SamplePlan> plans = await VisiblePlans(db, viewer).Where(plan => plan.Due >= new DateOnly(today.Year, 1, 1))
            .ToDictionaryAsync(plan => plan.Id, cancel);
        ILookup<StationId, PlannedTaking> takings = await db.FollowAsync(plans.Values, ZoneOf, cancel);
        Row[] rows =
        [
            .. from station in takings
               from taking in station
               let plan = plans[new SamplePlanId(taking.Number)]
               let zone = ZoneOf(station.Key)
               let place = standing.GetValueOrDefault(station.Key)
               select new Row(
                   taking.Number, codes[station.Key], place is null ? null : $"{place.Name}, {place.Water}", taking.From, taking.Due, taking.Grabs, taking.LitresPerGrab,
                   PlanWords.What(taking.Grabs, taking.LitresPerGrab), plan.Reason is { } reason ? PlanWords.Why(reason) : $"Planned by {plan.PlannedBy}.", Stand(taking, plan, now, zone),
                   taking.End, taking.Due.DayNumber - LocalCalendar.DateOf(now, zone).DayNumber, plan.Version),
        ];
        return new View(
            today,
            [
                .. rows.Where(row => row.IsOpen).OrderBy(row => row.Due).ThenBy(row => row.Station, StringComparer.Ordinal),
                .. rows.Where(row => !row.IsOpen).OrderByDescending(row => row.Due).ThenBy(row => row.Station, StringComparer.Ordinal),
            ],
            [.. codes.Select(station => new Place(station.Value, standing.GetValueOrDefault(station.Key)?.Name))],
            viewer.MayChangeFleet(),
            viewer.MaySample());

        TimeZoneInfo ZoneOf(StationId station) => standing.GetValueOrDefault(station)?.Zone ?? options.Value.Zone;
    }

    internal static IQueryable<SamplePlan> VisiblePlans(FleetDbContext db, Viewer viewer) =>
        db.SamplePlans.AsNoTracking().Where(plan => db.Stations.VisibleTo(viewer).Any(station => station.Id == plan.StationId));

    private static string Stand(PlannedTaking taking, SamplePlan plan, DateTimeOffset now, TimeZoneInfo zone)
    {
        DateOnly today = LocalCalendar.DateOf(now, zone);
        return taking.End switch
        {
            TakingEnd.Taken => $"taken {LocalTimes.Say(taking.EndedAt!.Value, zone)}",
            TakingEnd.Missed => "missed: the tank was emptied after its last day",
            TakingEnd.Dismissed => $"dismissed by {plan.DismissedBy}: {plan.DismissedFor}",
            _ when taking.Due < today => Late(today.DayNumber - taking.Due.DayNumber),
            _ when taking.Due == today => "due today",
            _ when taking.From <= today => "can be taken now",
            _ => "to come",
        };

        static string Late(int days) => days == 1 ? "a day late" : $"{days} days late";
    }
}
