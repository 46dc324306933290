using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Mail.Digests;

/// <summary>A person's choices, to be changed.</summary>
internal static class MailChoicesOf
{
    public static async Task<MailChoices> PersonAsync(FleetDbContext db, string person, CancellationToken cancel)
    {
        if (await db.MailChoices.SingleOrDefaultAsync(row => row.PersonId == person, cancel) is { } known)
        {
            return known;
        }

        MailChoices choices = new() { PersonId = person };
        db.Add(choices);
        return choices;
    }
}
