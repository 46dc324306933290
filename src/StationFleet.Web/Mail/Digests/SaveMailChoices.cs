using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail.Digests;

/// <summary>Keeps which mails a person wants, and the person's quiet hours.</summary>
internal sealed class SaveMailChoices(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        public bool Morning { get; set; }

        public bool Weekly { get; set; }

        /// <summary>Empty, with the end: the installation's quiet hours.</summary>
        public string? QuietFrom { get; set; }

        public string? QuietTo { get; set; }
    }

    /// <returns>What is wrong with the form; empty when it was saved.</returns>
    public async Task<WrongFields> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        Typed typed = new();
        TimeOnly? from = typed.TimeOrNothing(nameof(Command.QuietFrom), command.QuietFrom);
        TimeOnly? to = typed.TimeOrNothing(nameof(Command.QuietTo), command.QuietTo);
        if (typed.Wrong.Count == 0 && from is null != to is null)
        {
            typed.Wrong.Note(from is null ? nameof(Command.QuietFrom) : nameof(Command.QuietTo), "Write both times, or neither.");
        }

        if (typed.Wrong.Count == 0)
        {
            await databases.WriteAsync(
                async db =>
                {
                    MailChoices choices = await MailChoicesOf.PersonAsync(db, viewer.UserId, cancel);
                    choices.Morning = Choice(DigestKind.Morning, command.Morning, viewer);
                    choices.Weekly = Choice(DigestKind.Weekly, command.Weekly, viewer);
                    (choices.QuietFrom, choices.QuietTo) = (from, to);
                },
                cancel);
        }

        return typed.Wrong;
    }

    // What is usual stays unchosen, so that it follows the person's roles.
    private static bool? Choice(DigestKind kind, bool wanted, Viewer viewer) => wanted == DigestKinds.IsUsual(kind, viewer.Roles) ? null : wanted;
}
