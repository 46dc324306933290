using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Books time and cost. What is booked is never edited: a wrong entry is reversed by another, and booked anew.</summary>
internal sealed class BookEntry(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    /// <summary>What was typed, of time or of cost.</summary>
    internal sealed record Form(
        string Key, string Day, string Station, string Award, string Kind,
        string Person = "", string From = "", string Minutes = "", string Activity = "", string Rate = "", string What = "", string Amount = "");

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Booked : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    private sealed record Shared(DateOnly Day, TimeKind Kind, StationId? Station, Award? Award);

    public async Task<Outcome> TimeAsync(Viewer viewer, Form form, CancellationToken cancel)
    {
        if (!viewer.MayLog() || !FormKey.IsWhole(form.Key))
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        string person = viewer.MayKeepBooks() ? typed.Text(nameof(Form.Person), form.Person, 80, "Write whose time it is.") : viewer.Name;
        string activity = typed.Text(nameof(Form.Activity), form.Activity, 200, "Write what was done.");
        if (!TimeOnly.TryParseExact(form.From, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out TimeOnly from))
        {
            typed.Wrong.Note(nameof(Form.From), "Write when it began, such as 08:30.");
        }

        double minutes = typed.Number(nameof(Form.Minutes), form.Minutes, 1, TimeBook.MinutesOfDay);
        if (double.IsFinite(minutes) && !double.IsInteger(minutes))
        {
            typed.Wrong.Note(nameof(Form.Minutes), "Write whole minutes.");
        }

        Money rate = viewer.MayKeepBooks() ? TypedMoney.ReadOrNothing(typed, nameof(Form.Rate), form.Rate) ?? default : default;
        return await databases.WriteAsync(
            async db =>
            {
                if (await db.TimeEntries.AnyAsync(entry => entry.IdempotencyKey == form.Key, cancel))
                {
                    return new Outcome.Booked();
                }

                Shared shared = await ReadAsync(db, viewer, typed, form, cancel);
                if (typed.Wrong.Count == 0
                    && TimeBook.Fault(new TimeSlice(person, shared.Day, Minute(from), (int)minutes, shared.Award?.Number), await StandingAsync(db, person, shared.Day, cancel)) is { } fault)
                {
                    typed.Wrong.Note(nameof(Form.Minutes), fault);
                }

                if (typed.Wrong.Count > 0)
                {
                    return new Outcome.Refused(typed.Wrong);
                }

                db.Add(new TimeEntry
                {
                    Person = person,
                    Day = shared.Day,
                    StartMinute = Minute(from),
                    Minutes = (int)minutes,
                    Activity = activity,
                    StationId = shared.Station,
                    AwardId = shared.Award?.Id,
                    Kind = shared.Kind,
                    RatePerHour = rate,
                    Entered = clock.GetUtcNow(),
                    EnteredBy = viewer.Name,
                    IdempotencyKey = form.Key,
                });
                return (Outcome)new Outcome.Booked();
            },
            cancel);
    }

    public async Task<Outcome> CostAsync(Viewer viewer, Form form, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks() || !FormKey.IsWhole(form.Key))
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        string what = typed.Text(nameof(Form.What), form.What, 200, "Write what it was for.");
        Money amount = TypedMoney.Read(typed, nameof(Form.Amount), form.Amount);
        return await databases.WriteAsync(
            async db =>
            {
                if (await db.CostEntries.AnyAsync(entry => entry.IdempotencyKey == form.Key, cancel))
                {
                    return new Outcome.Booked();
                }

                Shared shared = await ReadAsync(db, viewer, typed, form, cancel);
                if (typed.Wrong.Count > 0)
                {
                    return new Outcome.Refused(typed.Wrong);
                }

                db.Add(new CostEntry
                {
                    Day = shared.Day,
                    What = what,
                    Amount = amount,
                    StationId = shared.Station,
                    AwardId = shared.Award?.Id,
                    Kind = shared.Kind,
                    Entered = clock.GetUtcNow(),
                    EnteredBy = viewer.Name,
                    IdempotencyKey = form.Key,
                });
                return (Outcome)new Outcome.Booked();
            },
            cancel);
    }

    /// <summary>Takes an entry back by another of the opposite sign; once.</summary>
    public async Task<bool> ReverseAsync(Viewer viewer, bool isTime, int id, CancellationToken cancel) => await databases.WriteAsync(
        async db =>
        {
            if (isTime)
            {
                TimeEntry? entry = await db.TimeEntries.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id && row.ReversesId == null, cancel);
                if (entry is null || !MayReverse(viewer, entry.EnteredBy) || await db.TimeEntries.AnyAsync(row => row.ReversesId == id, cancel))
                {
                    return false;
                }

                db.Add(new TimeEntry
                {
                    Person = entry.Person, Day = entry.Day, StartMinute = entry.StartMinute, Minutes = -entry.Minutes, Activity = entry.Activity,
                    StationId = entry.StationId, AwardId = entry.AwardId, Kind = entry.Kind, RatePerHour = entry.RatePerHour,
                    Entered = clock.GetUtcNow(), EnteredBy = viewer.Name, ReversesId = id, IdempotencyKey = $"reverses-{id}",
                });
                return true;
            }

            CostEntry? cost = await db.CostEntries.AsNoTracking().SingleOrDefaultAsync(row => row.Id == id && row.ReversesId == null, cancel);
            if (cost is null || !viewer.MayKeepBooks() || await db.CostEntries.AnyAsync(row => row.ReversesId == id, cancel))
            {
                return false;
            }

            db.Add(new CostEntry
            {
                Day = cost.Day, What = cost.What, Amount = new Money(-cost.Amount.Cents), StationId = cost.StationId, AwardId = cost.AwardId, Kind = cost.Kind,
                Entered = clock.GetUtcNow(), EnteredBy = viewer.Name, ReversesId = id, IdempotencyKey = $"reverses-{id}",
            });
            return true;
        },
        cancel);

    /// <summary>Whether a person may reverse an entry: one's own, or any when one keeps the books.</summary>
    public static bool MayReverse(Viewer viewer, string enteredBy) => viewer.MayKeepBooks() || (viewer.MayLog() && viewer.Name == enteredBy);

    private static async Task<List<TimeSlice>> StandingAsync(FleetDbContext db, string person, DateOnly day, CancellationToken cancel) =>
    [
        .. (await db.TimeEntries.Where(entry => entry.Day == day && entry.Person == person && entry.ReversesId == null
                && !db.TimeEntries.Any(other => other.ReversesId == entry.Id))
            .Select(entry => new
            {
                entry.StartMinute, entry.Minutes, Award = db.Awards.Where(award => award.Id == entry.AwardId).Select(award => award.Number).FirstOrDefault(),
            }).ToListAsync(cancel)).Select(entry => new TimeSlice(person, day, entry.StartMinute, entry.Minutes, entry.Award)),
    ];

    private async Task<Shared> ReadAsync(FleetDbContext db, Viewer viewer, Typed typed, Form form, CancellationToken cancel)
    {
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        DateOnly day = typed.Day(nameof(Form.Day), form.Day, today.AddYears(-3), today);
        if (!Enum.TryParse(form.Kind, out TimeKind kind) || !Enum.IsDefined(kind))
        {
            typed.Wrong.Note(nameof(Form.Kind), "Choose who pays.");
        }

        StationId? station = form.Station.Length == 0 ? null : await db.Stations.VisibleTo(viewer).Where(row => row.Code == form.Station)
            .Select(row => (StationId?)row.Id).SingleOrDefaultAsync(cancel);
        if (form.Station.Length > 0 && station is null)
        {
            typed.Wrong.Note(nameof(Form.Station), "Choose a station of the list.");
        }

        Award? award = form.Award.Length == 0 ? null : await db.Awards.AsNoTracking().SingleOrDefaultAsync(row => row.Number == form.Award, cancel);
        if (form.Award.Length > 0 && award is null)
        {
            typed.Wrong.Note(nameof(Form.Award), "Choose an award of the list.");
        }
        else if (award is not null && typed.Wrong.For(nameof(Form.Day)) is null && (day < award.Starts || day > award.Ends))
        {
            typed.Wrong.Note(nameof(Form.Day), $"{award.Number} runs from {GrantWords.Day(award.Starts)} to {GrantWords.Day(award.Ends)}: this day lies outside.");
        }

        return new Shared(day, kind, station, award);
    }

    private static int Minute(TimeOnly time) => (time.Hour * 60) + time.Minute;
}
