using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Accounts;

/// <summary>Everybody who has an account, for administrators.</summary>
public sealed class ListPeople(IDbContextFactory<FleetDbContext> databases, TimeProvider clock)
{
    public sealed record Row(
        string Id, string Name, string Email, IReadOnlyList<string> Roles, AgencyId? Agency, string? AgencyName, bool IsLocked, bool HasTemporaryPassword);

    public async Task<IReadOnlyList<Row>> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        if (!viewer.MayManagePeople())
        {
            return [];
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        var roles = (await db.UserRoles
            .Join(db.Roles, link => link.RoleId, role => role.Id, (link, role) => new { link.UserId, Role = role.Name! })
            .ToListAsync(cancel)).ToLookup(link => link.UserId, link => link.Role);
        var people = await db.Users
            .OrderBy(user => user.DisplayName)
            .Select(user => new
            {
                user.Id,
                user.DisplayName,
                user.Email,
                user.AgencyId,
                AgencyName = db.Agencies.Where(agency => agency.Id == user.AgencyId).Select(agency => agency.Name).FirstOrDefault(),
                user.LockoutEnd,
                HasTemporaryPassword = db.UserClaims.Any(claim => claim.UserId == user.Id && claim.ClaimType == TemporaryPassword.Claim),
            })
            .ToListAsync(cancel);
        DateTimeOffset now = clock.GetUtcNow();
        return [.. people.Select(person => new Row(
            person.Id, person.DisplayName, person.Email ?? "", [.. roles[person.Id].Order(StringComparer.Ordinal)], person.AgencyId,
            person.AgencyName, person.LockoutEnd > now, person.HasTemporaryPassword))];
    }
}
