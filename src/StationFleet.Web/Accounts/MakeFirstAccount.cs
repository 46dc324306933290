using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Accounts;

/// <summary>Makes the administrator's account of a new installation and signs the person in.</summary>
internal sealed class MakeFirstAccount(FirstRun firstRun, UserManager<FleetUser> users, SignInManager<FleetUser> signIn)
{
    private static readonly SemaphoreSlim OneAtATime = new(1, 1);

    internal sealed class Command
    {
        public string? Code { get; set; }

        public string? Name { get; set; }

        public string? Email { get; set; }

        public string? Password { get; set; }

        public string? PasswordAgain { get; set; }
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Made : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record TooLate : Outcome;
    }

    public async Task<Outcome> HandleAsync(Command command, CancellationToken cancel)
    {
        Typed typed = new();
        if (!firstRun.Accepts(command.Code))
        {
            typed.Wrong.Note(nameof(Command.Code), "This is not the code that the server printed when it started.");
        }

        string name = typed.Text(nameof(Command.Name), command.Name, 80, "Write the name that pages show.");
        string email = typed.Email(nameof(Command.Email), command.Email);
        typed.NewPassword(nameof(Command.Password), command.Password, nameof(Command.PasswordAgain), command.PasswordAgain);
        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        await OneAtATime.WaitAsync(cancel);
        try
        {
            return await firstRun.IsOpenAsync(cancel) ? await MakeAsync(name, email, command.Password!) : new Outcome.TooLate();
        }
        finally
        {
            OneAtATime.Release();
        }
    }

    private async Task<Outcome> MakeAsync(string name, string email, string password)
    {
        FleetUser user = new() { UserName = email, Email = email, DisplayName = name, EmailConfirmed = true };
        IdentityResult made = await users.CreateAsync(user, password);
        if (!made.Succeeded)
        {
            WrongFields wrong = [];
            wrong.NoteRefusals(made, nameof(Command.Email), nameof(Command.Password));
            return new Outcome.Refused(wrong);
        }

        await users.AddToRoleAsync(user, FleetRoles.Administrator);
        await signIn.SignInAsync(user, isPersistent: false);
        return new Outcome.Made();
    }
}
