using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service.Routes;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Service.Routes;

/// <summary>The order of a person's day, as somebody set it for today.</summary>
/// <param name="Sentence">The day in a sentence; null when none is set.</param>
/// <param name="Places">The place of each station in the day.</param>
internal sealed record DayOrder(string? Sentence, IReadOnlyDictionary<StationId, int> Places)
{
    public static async Task<DayOrder> ReadAsync(FleetDbContext db, Viewer viewer, DateTimeOffset now, TimeZoneInfo zone, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(now, zone);
        SetRoute? route = await db.SetRoutes.AsNoTracking().SingleOrDefaultAsync(row => row.Day == today && row.PersonId == viewer.UserId, cancel);
        if (route is null)
        {
            return new DayOrder(null, new Dictionary<StationId, int>());
        }

        Dictionary<AccessId, int> order = route.Stops.Select((stop, index) => (stop.Access, index)).ToDictionary(pair => pair.Access, pair => pair.index);
        var standing = await db.Placements.Where(placement => placement.From <= now && (placement.To == null || placement.To > now))
            .Select(placement => new { placement.StationId, placement.AccessId }).ToListAsync(cancel);
        string stops = $"{NumberWords.Count(order.Count)} {(order.Count == 1 ? "stop" : "stops")}";
        return new DayOrder(
            $"Your day on the road: {stops}, from {RouteWords.Clock(route.StartsAt, zone)}, back at {RouteWords.Clock(route.Back, zone)}.",
            standing.Where(row => order.ContainsKey(row.AccessId)).GroupBy(row => row.StationId).ToDictionary(group => group.Key, group => order[group.First().AccessId]));
    }

    /// <summary>By the order of the day; what is not in it comes after, as it was.</summary>
    public IReadOnlyList<TicketRow> Sort(IReadOnlyList<TicketRow> rows) =>
        [.. rows.OrderBy(row => Places.TryGetValue(row.StationId, out int place) ? place : int.MaxValue)];
}
