using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Adds an agency or renames it; only people who are bound to no agency may.</summary>
internal sealed class SaveAgency(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        /// <summary>The agency to rename; null adds one.</summary>
        public AgencyId? Id { get; init; }

        public string Name { get; set; } = "";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Saved : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) =>
        viewer.MayChangeFleet() && viewer.Agency is null
            ? await databases.WriteAsync(db => SaveAsync(db, command, cancel), cancel)
            : new Outcome.NotAllowed();

    private static async Task<Outcome> SaveAsync(FleetDbContext db, Command command, CancellationToken cancel)
    {
        Typed typed = new();
        string name = typed.Text(nameof(Command.Name), command.Name, 120, "Write the agency's name.");
        if (await db.Agencies.AnyAsync(row => row.Name == name && row.Id != (command.Id ?? new AgencyId(0)), cancel))
        {
            typed.Wrong.Note(nameof(Command.Name), "Another agency has this name.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new Outcome.Refused(typed.Wrong);
        }

        if (command.Id is not { } id)
        {
            db.Agencies.Add(new Agency { Name = name });
            return new Outcome.Saved();
        }

        if (await db.Agencies.SingleOrDefaultAsync(row => row.Id == id, cancel) is not { } agency)
        {
            return new Outcome.NotAllowed();
        }

        agency.Name = name;
        return new Outcome.Saved();
    }
}
