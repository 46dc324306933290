using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Routes;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Sets how long it takes to drive from one place to another, one way; nothing typed goes back to the straight line.</summary>
internal sealed class SaveDrive(IDbContextFactory<FleetDbContext> databases)
{
    private const double MostMinutes = 24 * 60;

    internal sealed class Command
    {
        public string From { get; set; } = "";

        public string To { get; set; } = "";

        public string Minutes { get; set; } = "";

        /// <summary>Sets the way back to the same.</summary>
        public bool BothWays { get; set; } = true;
    }

    public async Task<FormOutcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => RouteRights.MayChange(viewer)
        ? await databases.WriteAsync(db => SaveAsync(db, command, cancel), cancel)
        : new FormOutcome.NotAllowed();

    private static async Task<FormOutcome> SaveAsync(FleetDbContext db, Command command, CancellationToken cancel)
    {
        Typed typed = new();
        double? minutes = typed.NumberOrNothing(nameof(Command.Minutes), command.Minutes, 0, MostMinutes, "minutes");
        HashSet<string> places =
        [
            .. (await db.Yards.Select(yard => yard.Id).ToListAsync(cancel)).Select(RoutePlace.KeyOfYard),
            .. (await db.Accesses.Select(access => access.Id).ToListAsync(cancel)).Select((AccessId access) => RoutePlace.KeyOf(access)),
        ];
        if (!places.Contains(command.From))
        {
            typed.Wrong.Note(nameof(Command.From), "Choose a place of the list.");
        }

        if (!places.Contains(command.To) || command.To == command.From)
        {
            typed.Wrong.Note(nameof(Command.To), "Choose another place of the list.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new FormOutcome.Refused(typed.Wrong);
        }

        await SetAsync(db, command.From, command.To, minutes, cancel);
        if (command.BothWays)
        {
            await SetAsync(db, command.To, command.From, minutes, cancel);
        }

        return new FormOutcome.Saved();
    }

    private static async Task SetAsync(FleetDbContext db, string from, string to, double? minutes, CancellationToken cancel)
    {
        KnownDrive? known = await db.KnownDrives.SingleOrDefaultAsync(drive => drive.FromKey == from && drive.ToKey == to, cancel);
        switch (known, minutes)
        {
            case (not null, null):
                db.Remove(known);
                break;
            case (not null, { } changed):
                known.Minutes = changed;
                break;
            case (null, { } added):
                db.Add(new KnownDrive { FromKey = from, ToKey = to, Minutes = added });
                break;
        }
    }
}
