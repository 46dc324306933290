using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Duty;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;

namespace StationFleet.Web.Duty;

/// <summary>Somebody who can be told.</summary>
/// <param name="Quiet">The person's quiet hours.</param>
internal sealed record CrewMember(string Id, string Name, string Email, AgencyId? Agency, IReadOnlySet<string> Roles, ClockHours Quiet, MailChoices? Choices)
{
    public bool MaySee(Station station) => Agency is null || Agency == station.OwnerId || Agency == station.OperatorId;
}

/// <summary>Everybody who can be told, and who is on duty when.</summary>
internal sealed record Crew(IReadOnlyList<CrewMember> Members, DutyRoster Roster)
{
    /// <summary>Reads accounts that are not locked and have an address, their choices, and the roster.</summary>
    public static async Task<Crew> ReadAsync(FleetDbContext db, DutyOptions options, CancellationToken cancel)
    {
        ILookup<string, string> roles = (await db.UserRoles
            .Join(db.Roles, link => link.RoleId, role => role.Id, (link, role) => new { link.UserId, Role = role.Name! })
            .ToListAsync(cancel)).ToLookup(link => link.UserId, link => link.Role);
        Dictionary<string, MailChoices> choices = await db.MailChoices.AsNoTracking().ToDictionaryAsync(row => row.PersonId, cancel);

        // A few wrong passwords lock for minutes; only a lock for good, as on the page People, ends the mails.
        var people = await db.Users.AsNoTracking()
            .Where(user => user.Email != null && user.Email != "")
            .OrderBy(user => user.DisplayName).ThenBy(user => user.Id)
            .Select(user => new { user.Id, user.DisplayName, user.Email, user.AgencyId, user.LockoutEnd })
            .ToListAsync(cancel);
        List<DutyEntry> hours = await db.DutyHours.AsNoTracking().OrderBy(row => row.Id).ToListAsync(cancel);
        List<AbsenceEntry> absences = await db.Absences.AsNoTracking().OrderBy(row => row.Id).ToListAsync(cancel);
        return new Crew(
            [
                .. people.Where(person => !(person.LockoutEnd?.Year > 9000)).Select(person => new CrewMember(
                    person.Id,
                    person.DisplayName.Length > 0 ? person.DisplayName : person.Email!,
                    person.Email!,
                    person.AgencyId,
                    roles[person.Id].ToHashSet(StringComparer.Ordinal),
                    QuietOf(choices.GetValueOrDefault(person.Id)) ?? options.Quiet,
                    choices.GetValueOrDefault(person.Id))),
            ],
            new DutyRoster(
                [.. hours.Select(row => new DutyHours(row.PersonId, row.AccessId, row.Days, new ClockHours(row.From, row.To)))],
                [.. absences.Select(row => new Absence(row.PersonId, row.StandInId, row.FirstDay, row.LastDay))]));
    }

    /// <summary>The crew that may see a station; hours of anybody else count as nobody's.</summary>
    public Crew For(Station station)
    {
        CrewMember[] able = [.. Members.Where(member => member.MaySee(station))];
        HashSet<string> ids = [.. able.Select(member => member.Id)];
        return new Crew(able, new DutyRoster(
            [.. Roster.Hours.Where(hours => ids.Contains(hours.Person) || Roster.Absences.Any(absence => absence.Away == hours.Person))],
            [
                .. Roster.Absences.Select(absence => absence with { StandIn = ids.Contains(absence.StandIn ?? "") ? absence.StandIn : null }),
                .. Roster.Hours.Select(hours => hours.Person).Where(person => !ids.Contains(person)).Distinct()
                    .Select(person => new Absence(person, null, DateOnly.MinValue, DateOnly.MaxValue)),
            ]));
    }

    /// <summary>The members with a role.</summary>
    public IReadOnlyList<CrewMember> With(string role) => [.. Members.Where(member => member.Roles.Contains(role))];

    /// <summary>Members by their ids, in that order.</summary>
    public IReadOnlyList<CrewMember> Named(IEnumerable<string> ids) =>
        [.. ids.Select(id => Members.FirstOrDefault(member => member.Id == id)).OfType<CrewMember>()];

    /// <summary>A member's name; null when nobody of that id can be told.</summary>
    public string? NameOf(string id) => Members.FirstOrDefault(member => member.Id == id)?.Name;

    private static ClockHours? QuietOf(MailChoices? choices) =>
        choices is { QuietFrom: { } from, QuietTo: { } to } ? new ClockHours(from, to) : null;
}
