using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Visits;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Visits;

/// <summary>Names a part that is counted from now on, or corrects its name and reorder point.</summary>
internal sealed class SavePart(IDbContextFactory<FleetDbContext> databases)
{
    public const int Most = 9999;

    internal sealed class Command
    {
        /// <summary>The part to correct; null adds one.</summary>
        public int? Id { get; init; }

        public string Name { get; set; } = "";

        public string ReorderAt { get; set; } = "";
    }

    public async Task<FormOutcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => TicketDesk.MayAct(viewer)
        ? await databases.WriteAsync(db => SaveAsync(db, command, cancel), cancel)
        : new FormOutcome.NotAllowed();

    private static async Task<FormOutcome> SaveAsync(FleetDbContext db, Command command, CancellationToken cancel)
    {
        Part? part = command.Id is null ? null : await db.Parts.SingleOrDefaultAsync(row => row.Id == command.Id, cancel);
        if (command.Id is not null && part is null)
        {
            return new FormOutcome.NotAllowed();
        }

        Typed typed = new();
        string name = typed.Text(nameof(Command.Name), command.Name, 120, "Write what it is, such as Vacuum hose, 50 mm.");
        int reorderAt = Whole(typed, nameof(Command.ReorderAt), command.ReorderAt);
        if (await db.Parts.AnyAsync(row => row.Name == name && row.Id != (command.Id ?? 0), cancel))
        {
            typed.Wrong.Note(nameof(Command.Name), "There is a part of this name already.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new FormOutcome.Refused(typed.Wrong);
        }

        if (part is null)
        {
            part = new Part { Name = name };
            db.Add(part);
        }

        (part.Name, part.ReorderAt) = (name, reorderAt);
        return new FormOutcome.Saved();
    }

    /// <summary>A count as people type it.</summary>
    public static int Whole(Typed typed, string field, string text)
    {
        if (int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value <= Most)
        {
            return value;
        }

        typed.Wrong.Note(field, $"Write a whole number from 0 to {Most}.");
        return 0;
    }
}
