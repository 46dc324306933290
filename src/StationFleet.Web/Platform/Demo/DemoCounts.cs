using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Platform.Demo;

/// <summary>
/// Invented count shifts: a steward at two ramps who saw what the tools' counters counted, boats to go with it, and boats that passed
/// by. Weekday afternoons are counted nowhere, and one ramp has a single shift, so that the pages have something to say of that.
/// </summary>
internal sealed class DemoCounts(MeasurementReader measurements)
{
    // Of each station: uses that a boat makes, and the share of leaving boats that use it, in the long run.
    private static readonly Dictionary<string, (double UsesPerBoat, double Share)> Ramps = new()
    {
        ["COP-1"] = (3.04, 0.34), ["OTT-1"] = (2.85, 0.27), ["SOR-1"] = (2.92, 0.2),
    };

    private static readonly (DayOfWeek Day, int From, int To)[] Hours = [(DayOfWeek.Saturday, 8, 12), (DayOfWeek.Sunday, 13, 17), (DayOfWeek.Wednesday, 7, 11)];

    private static readonly DateOnly OnlyAtSorrel = new(2026, 6, 20);

    /// <summary>Adds the shifts of a stretch of time whose reports are there.</summary>
    public async Task AddAsync(
        FleetDbContext db, IReadOnlyDictionary<string, StationId> stations, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        FleetUser steward = await db.Users.FirstAsync(
            user => db.UserRoles.Any(has => has.UserId == user.Id && db.Roles.Any(role => role.Id == has.RoleId && role.Name == FleetRoles.Steward)), cancel);
        List<Placement> placements = await db.Placements.AsNoTracking().ToListAsync(cancel);
        Dictionary<AccessId, Access> accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(access => access.Id, cancel);
        foreach ((string code, (double usesPerBoat, double share)) in Ramps)
        {
            StationId station = stations[code];
            foreach (Placement placement in placements.Where(row => row.StationId == station))
            {
                Access access = accesses[placement.AccessId];
                for (DateOnly day = LocalCalendar.DateOf(from, access.Zone); day <= LocalCalendar.DateOf(to, access.Zone); day = day.AddDays(1))
                {
                    foreach ((DayOfWeek _, int first, int last) in Hours.Where(hours => IsCounted(code, day, hours.Day)))
                    {
                        (DateTimeOffset begin, DateTimeOffset end) = (At(day, first), At(day, last));
                        if (begin >= from && end < to && begin >= placement.From && !(end > placement.To))
                        {
                            Dictionary<string, int> uses = await UsesAsync(station, begin, end, cancel);
                            await StoreAsync(db, code, Shift(begin, end), uses, usesPerBoat, share, cancel);
                        }
                    }
                }

                DateTimeOffset At(DateOnly day, int hour) => LocalCalendar.InstantAt(day.ToDateTime(new TimeOnly(hour, 0)), access.Zone)!.Value;

                CountShiftRow Shift(DateTimeOffset begin, DateTimeOffset end) => new()
                {
                    StationId = station, AccessId = access.Id, From = begin, To = end, Counter = steward.DisplayName, CountedById = steward.Id,
                    Entered = end.AddMinutes(4), IdempotencyKey = $"demo-count-{code}-{begin:yyyyMMddHH}",
                };
            }
        }
    }

    // Every second weekend and every third Wednesday; at the one ramp by turns with the other.
    private static bool IsCounted(string code, DateOnly day, DayOfWeek wanted) => day.DayOfWeek == wanted && code switch
    {
        "SOR-1" => day == OnlyAtSorrel,
        _ when wanted == DayOfWeek.Wednesday => day.DayNumber / 7 % 3 == (code == "COP-1" ? 0 : 1),
        _ => day.AddDays(1).DayNumber / 7 % 2 == (code == "COP-1" ? 0 : 1),
    };

    private static async Task StoreAsync(
        FleetDbContext db, string code, CountShiftRow shift, Dictionary<string, int> uses, double usesPerBoat, double share, CancellationToken cancel)
    {
        Random random = new(unchecked((int)(shift.From.ToUnixTimeSeconds() % 1_000_003) + (code[0] * 31)));
        shift.BoatsAtStation = Math.Max(Math.Sign(uses.Values.Sum()), (int)Math.Round(uses.Values.Sum() / (usesPerBoat * (0.92 + (0.16 * random.NextDouble())))));
        shift.BoatsLeaving = (int)Math.Round(shift.BoatsAtStation / (share * (0.75 + (0.5 * random.NextDouble())))) + random.Next(3);
        bool isCorrected = random.NextDouble() < 0.08;
        shift.Version = isCorrected ? 1 : 0;
        db.Add(shift);
        await db.SaveChangesAsync(cancel);
        db.AddRange(uses.Select(tool => new CountedToolUses { ShiftId = shift.Id, Tool = tool.Key, Uses = tool.Value }));
        if (isCorrected)
        {
            db.Add(new CountShiftEvent
            {
                ShiftId = shift.Id, At = shift.To.AddHours(3), Who = shift.Counter, What = $"Boats leaving: {shift.BoatsLeaving}, was {shift.BoatsLeaving + 10}.",
            });
        }
    }

    // What the counters rose in the shift; a tool whose readings are missing, or whose counter began again, was not watched.
    private async Task<Dictionary<string, int>> UsesAsync(StationId station, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        string[] names = [.. (await measurements.NamesAsync(station, cancel)).Where(name => MeasurementName.ToolOfUses(name) is not null)];
        IReadOnlyList<Measurement> readings = await measurements.RangeAsync(station, names, from.AddHours(-1), to, cancel);
        return readings.GroupBy(reading => reading.Name)
            .Select(series => (
                Tool: MeasurementName.ToolOfUses(series.Key)!,
                Before: series.Where(reading => reading.At <= from).Select(reading => (double?)reading.Value).LastOrDefault(),
                After: series.Last().Value))
            .Where(tool => tool.Before is { } before && tool.After >= before)
            .ToDictionary(tool => tool.Tool, tool => (int)(tool.After - tool.Before!.Value), StringComparer.Ordinal);
    }
}
