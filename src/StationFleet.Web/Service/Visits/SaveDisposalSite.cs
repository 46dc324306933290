using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Visits;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Visits;

/// <summary>Adds an approved disposal site or corrects one; none is ever removed, since pump-outs name it: its permission ends.</summary>
internal sealed class SaveDisposalSite(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        /// <summary>The site to correct; null adds one.</summary>
        public int? Id { get; init; }

        public string Name { get; set; } = "";

        public string Permission { get; set; } = "";

        /// <summary>The last day of the permission; empty: it has no end.</summary>
        public string LastDay { get; set; } = "";
    }

    public static bool MayChange(Viewer viewer) => viewer.MayChangeFleet() && viewer.Agency is null;

    public async Task<FormOutcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => MayChange(viewer)
        ? await databases.WriteAsync(db => SaveAsync(db, command, cancel), cancel)
        : new FormOutcome.NotAllowed();

    private static async Task<FormOutcome> SaveAsync(FleetDbContext db, Command command, CancellationToken cancel)
    {
        DisposalSite? site = command.Id is null ? null : await db.DisposalSites.SingleOrDefaultAsync(row => row.Id == command.Id, cancel);
        if (command.Id is not null && site is null)
        {
            return new FormOutcome.NotAllowed();
        }

        Typed typed = new();
        string name = typed.Text(nameof(Command.Name), command.Name, 120, "Write what it is called, such as Town treatment works.");
        string permission = typed.Text(nameof(Command.Permission), command.Permission, 200, "Write who permitted it, and the number.");
        DateOnly? last = command.LastDay.Trim().Length == 0
            ? null
            : typed.Day(nameof(Command.LastDay), command.LastDay, new DateOnly(2000, 1, 1), new DateOnly(2200, 1, 1));
        if (await db.DisposalSites.AnyAsync(row => row.Name == name && row.Id != (command.Id ?? 0), cancel))
        {
            typed.Wrong.Note(nameof(Command.Name), "There is a place of this name already.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new FormOutcome.Refused(typed.Wrong);
        }

        if (site is null)
        {
            site = new DisposalSite { Name = name, Permission = permission };
            db.Add(site);
        }

        (site.Name, site.Permission, site.LastDay) = (name, permission, last);
        return new FormOutcome.Saved();
    }
}
