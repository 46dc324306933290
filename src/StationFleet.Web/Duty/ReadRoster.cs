using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Duty;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Duty;

/// <summary>Who is on duty where and when, who is away, and who would be told now.</summary>
public sealed class ReadRoster(IDbContextFactory<FleetDbContext> databases, IOptions<DutyOptions> options, IOptions<FleetOptions> fleet, FleetClock clock)
{
    /// <summary>Hours of a person.</summary>
    public sealed record Hours(int Id, string PersonId, string Person, AccessId? Access, string Place, Weekdays Days, TimeOnly From, TimeOnly To);

    /// <summary>Days on which a person is away.</summary>
    public sealed record Away(int Id, string PersonId, string Person, string? StandInId, string? StandIn, DateOnly FirstDay, DateOnly LastDay);

    /// <summary>Who answers for an access at this hour; null: nobody.</summary>
    public sealed record Now(string Access, string? Person);

    public sealed record Choice(string Id, string Name);

    public sealed record Place(AccessId Id, string Name);

    /// <summary>The whole page.</summary>
    /// <param name="Absences">Those that are not over.</param>
    /// <param name="MayChange">Whether the person may change the roster.</param>
    public sealed record View(
        IReadOnlyList<Hours> Roster, IReadOnlyList<Away> Absences, IReadOnlyList<Now> OnDuty, IReadOnlyList<Choice> People,
        IReadOnlyList<Place> Places, ClockHours Quiet, double EscalateAfterHours, DateOnly Today, bool MayChange);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DateOnly today = LocalCalendar.DateOf(now, fleet.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Crew crew = await Crew.ReadAsync(db, options.Value, cancel);
        var accesses = await db.Accesses.AsNoTracking().OrderBy(access => access.Name).ToListAsync(cancel);
        List<DutyEntry> hours = await db.DutyHours.AsNoTracking().OrderBy(row => row.Id).ToListAsync(cancel);
        List<AbsenceEntry> absences = await db.Absences.AsNoTracking()
            .Where(row => row.LastDay >= today).OrderBy(row => row.FirstDay).ThenBy(row => row.Id).ToListAsync(cancel);
        return new View(
            [
                .. hours.Select(row => new Hours(
                    row.Id, row.PersonId, Name(row.PersonId), row.AccessId,
                    row.AccessId is { } at ? accesses.Find(access => access.Id == at)?.Name ?? "" : "every access", row.Days, row.From, row.To)),
            ],
            [
                .. absences.Select(row => new Away(
                    row.Id, row.PersonId, Name(row.PersonId), row.StandInId, row.StandInId is { } id ? Name(id) : null, row.FirstDay, row.LastDay)),
            ],
            [
                .. accesses.Select(access => new Now(
                    access.Name,
                    crew.Named(crew.Roster.OnDuty(access.Id, now, access.Zone)) is [var first, ..] ? first.Name : null)),
            ],
            [.. crew.Members.Select(member => new Choice(member.Id, member.Name))],
            [.. accesses.Select(access => new Place(access.Id, access.Name))],
            options.Value.Quiet,
            options.Value.EscalateAfterHours,
            today,
            viewer.MayChangeFleet());

        string Name(string id) => crew.NameOf(id) ?? "somebody without mail";
    }
}
