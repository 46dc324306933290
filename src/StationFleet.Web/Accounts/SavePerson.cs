using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Accounts;

/// <summary>Adds a person with a temporary password, or changes a person's name, address, roles and agency.</summary>
public sealed class SavePerson(IServiceScopeFactory scopes, IDbContextFactory<FleetDbContext> databases)
{
    public sealed class Command
    {
        /// <summary>The account to change; null adds a person.</summary>
        public string? Id { get; init; }

        public string Name { get; set; } = "";

        public string Email { get; set; } = "";

        public HashSet<string> Roles { get; init; } = new(StringComparer.Ordinal);

        public AgencyId? Agency { get; set; }
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        public sealed record Added(string TemporaryPassword) : Outcome;

        public sealed record Changed : Outcome;

        public sealed record Refused(WrongFields Wrong) : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayManagePeople())
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        string name = typed.Text(nameof(Command.Name), command.Name, 80, "Write the name that pages show.");
        string email = typed.Email(nameof(Command.Email), command.Email);
        if (command.Roles.Count == 0 || !command.Roles.IsSubsetOf(FleetRoles.All))
        {
            typed.Wrong.Note(nameof(Command.Roles), "Choose at least one role.");
        }

        if (command.Agency is { } agency && !await ExistsAsync(agency, cancel))
        {
            typed.Wrong.Note(nameof(Command.Agency), "Choose an agency from the list.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        await using AsyncServiceScope scope = scopes.CreateAsyncScope();
        UserManager<FleetUser> users = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        return command.Id is null
            ? await AddAsync(users, name, email, command)
            : await ChangeAsync(users, name, email, command);
    }

    private async Task<bool> ExistsAsync(AgencyId agency, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Agencies.AnyAsync(row => row.Id == agency, cancel);
    }

    private static async Task<Outcome> AddAsync(UserManager<FleetUser> users, string name, string email, Command command)
    {
        string password = TemporaryPassword.Make();
        FleetUser user = new() { UserName = email, Email = email, DisplayName = name, AgencyId = command.Agency, EmailConfirmed = true };
        IdentityResult made = await users.CreateAsync(user, password);
        if (!made.Succeeded)
        {
            return Refused(made);
        }

        await users.AddToRolesAsync(user, command.Roles);
        await TemporaryPassword.MarkAsync(users, user);
        return new Outcome.Added(password);
    }

    private static async Task<Outcome> ChangeAsync(UserManager<FleetUser> users, string name, string email, Command command)
    {
        if (await users.FindByIdAsync(command.Id!) is not { } user)
        {
            return new Outcome.NotAllowed();
        }

        IList<string> present = await users.GetRolesAsync(user);
        if (present.Contains(FleetRoles.Administrator) && !command.Roles.Contains(FleetRoles.Administrator)
            && await LastAdministrator.IsAsync(users, user))
        {
            WrongFields wrong = [];
            wrong.Note(nameof(Command.Roles), "This is the only administrator who can sign in. Make another one first.");
            return new Outcome.Refused(wrong);
        }

        (user.DisplayName, user.Email, user.UserName, user.AgencyId) = (name, email, email, command.Agency);
        IdentityResult changed = await users.UpdateAsync(user);
        if (!changed.Succeeded)
        {
            return Refused(changed);
        }

        await users.RemoveFromRolesAsync(user, present.Except(command.Roles));
        await users.AddToRolesAsync(user, command.Roles.Except(present));

        // What the person may do stands in the cookie: a new stamp makes browsers ask anew.
        await users.UpdateSecurityStampAsync(user);
        return new Outcome.Changed();
    }

    private static Outcome.Refused Refused(IdentityResult result)
    {
        WrongFields wrong = [];
        wrong.NoteRefusals(result, nameof(Command.Email), nameof(Command.Email));
        return new Outcome.Refused(wrong);
    }
}
