using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Counts;

/// <summary>Stores a count shift, once, and its corrections, each with what was there before.</summary>
internal sealed class CountDesk(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Stored(CountShiftId Id) : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    /// <summary>Stores a shift; the same form sent twice is one shift.</summary>
    public async Task<Outcome> SaveAsync(Viewer viewer, string code, string key, CountInput input, CancellationToken cancel)
    {
        if (!viewer.MayCount())
        {
            return new Outcome.NotAllowed();
        }

        if (!FormKey.IsWhole(key))
        {
            return new Outcome.Refused(new WrongFields { [""] = FormKey.NotWhole });
        }

        return await databases.WriteAsync(
            async db =>
            {
                if (await db.CountShifts.AsNoTracking().SingleOrDefaultAsync(shift => shift.IdempotencyKey == key, cancel) is { } known)
                {
                    return known.CountedById == viewer.UserId ? new Outcome.Stored(known.Id) : new Outcome.NotAllowed();
                }

                if (await db.Stations.VisibleTo(viewer).AsNoTracking().SingleOrDefaultAsync(row => row.Code == code, cancel) is not { } station)
                {
                    return new Outcome.NotAllowed();
                }

                (CountReport report, Access? access, WrongFields wrong) = await ReadAsync(db, viewer.UserId, station.Id, null, input, cancel);
                if (wrong.Count > 0 || access is null)
                {
                    return new Outcome.Refused(wrong);
                }

                CountShiftRow shift = new()
                {
                    StationId = station.Id, AccessId = access.Id, From = report.From, To = report.To, Counter = viewer.Name, CountedById = viewer.UserId,
                    BoatsLeaving = report.BoatsLeaving, BoatsAtStation = report.BoatsAtStation, Note = report.Note, Entered = clock.GetUtcNow(), IdempotencyKey = key,
                };
                db.Add(shift);
                await db.SaveChangesAsync(cancel);
                db.AddRange(report.Tools.Select(tool => new CountedToolUses { ShiftId = shift.Id, Tool = tool.Key, Uses = tool.Value }));
                return (Outcome)new Outcome.Stored(shift.Id);
            },
            cancel);
    }

    /// <summary>Corrects a shift; its history keeps what was there.</summary>
    /// <param name="version">The shift's version when the form was made.</param>
    public Task<Outcome> CorrectAsync(Viewer viewer, CountShiftId id, int version, CountInput input, CancellationToken cancel) =>
        ChangeAsync(viewer, id, version, async (db, shift) =>
        {
            (CountReport report, Access? access, WrongFields wrong) = await ReadAsync(db, shift.CountedById, shift.StationId, shift, input, cancel);
            List<CountedToolUses> tools = await db.CountedToolUses.AsTracking().Where(tool => tool.ShiftId == id).ToListAsync(cancel);
            if (wrong.Count > 0 || access is null)
            {
                return wrong;
            }

            List<string> changes = CountTexts.Changes(shift, tools, report, access.Zone);
            if (changes.Count == 0)
            {
                wrong.Note("", "Nothing is changed.");
                return wrong;
            }

            (shift.AccessId, shift.From, shift.To) = (access.Id, report.From, report.To);
            (shift.BoatsLeaving, shift.BoatsAtStation, shift.Note) = (report.BoatsLeaving, report.BoatsAtStation, report.Note);
            db.RemoveRange(tools.Where(tool => !report.Tools.ContainsKey(tool.Tool)));
            foreach ((string slug, int uses) in report.Tools)
            {
                if (tools.Find(tool => tool.Tool == slug) is { } row)
                {
                    row.Uses = uses;
                }
                else
                {
                    db.Add(new CountedToolUses { ShiftId = id, Tool = slug, Uses = uses });
                }
            }

            Tell(db, viewer, shift, string.Join('\n', changes));
            return wrong;
        }, cancel);

    /// <summary>Takes a shift back, or lets it count again.</summary>
    public Task<Outcome> StrikeAsync(Viewer viewer, CountShiftId id, int version, bool isStruck, CancellationToken cancel) =>
        ChangeAsync(viewer, id, version, (db, shift) =>
        {
            if (shift.IsStruck != isStruck)
            {
                shift.IsStruck = isStruck;
                Tell(db, viewer, shift, isStruck ? "Taken back: it counts for nothing." : "It counts again.");
            }

            return Task.FromResult<WrongFields>([]);
        }, cancel);

    private async Task<Outcome> ChangeAsync(
        Viewer viewer, CountShiftId id, int version, Func<FleetDbContext, CountShiftRow, Task<WrongFields>> change, CancellationToken cancel) =>
        await databases.WriteAsync(
            async db =>
            {
                if (await db.CountShiftsVisibleTo(viewer).AsTracking().SingleOrDefaultAsync(shift => shift.Id == id, cancel) is not { } shift || !viewer.MayCorrect(shift))
                {
                    return new Outcome.NotAllowed();
                }

                if (shift.Version != version)
                {
                    return new Outcome.Refused(new WrongFields { [""] = "Somebody corrected it meanwhile. Look at what it says now, and send your correction once more." });
                }

                WrongFields wrong = await change(db, shift);
                shift.Version += wrong.Count > 0 ? 0 : 1;
                return (Outcome)(wrong.Count > 0 ? new Outcome.Refused(wrong) : new Outcome.Stored(id));
            },
            cancel);

    private async Task<(CountReport Report, Access? Access, WrongFields Wrong)> ReadAsync(
        FleetDbContext db, string counter, StationId station, CountShiftRow? present, CountInput input, CancellationToken cancel)
    {
        Typed typed = new();
        DateTimeOffset now = clock.GetUtcNow();
        TimeZoneInfo zone = (await db.AccessAtAsync(station, present?.From ?? now, cancel))?.Zone ?? options.Value.Zone;
        HashSet<string> tools = [.. await db.Tools.Where(tool => tool.StationId == station).Select(tool => tool.Slug).ToListAsync(cancel)];
        CountReport report = CountReport.Read(typed, input, now, zone, tools);
        if (typed.Wrong.Count > 0)
        {
            return (report, null, typed.Wrong);
        }

        Access? access = await db.AccessAtAsync(station, report.From, cancel);
        if (access is null)
        {
            typed.Wrong.Note(nameof(CountInput.From), "The station stood at no access then.");
        }
        else if (await db.CountShifts.AsNoTracking().FirstOrDefaultAsync(
            shift => shift.CountedById == counter && shift.StationId == station && !shift.IsStruck && shift.From < report.To && shift.To > report.From
                && shift.Id != (present == null ? new CountShiftId(0) : present.Id),
            cancel) is { } same)
        {
            typed.Wrong.Note(nameof(CountInput.From), string.Create(CultureInfo.InvariantCulture, $"{CountTexts.Times(same.From, same.To, access.Zone)} is counted already, with {same.BoatsLeaving} boats leaving. Correct that shift instead."));
        }

        return (report, access, typed.Wrong);
    }

    private void Tell(FleetDbContext db, Viewer viewer, CountShiftRow shift, string what) =>
        db.Add(new CountShiftEvent { ShiftId = shift.Id, At = clock.GetUtcNow(), Who = viewer.Name, What = what });
}
