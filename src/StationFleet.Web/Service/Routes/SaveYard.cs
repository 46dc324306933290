using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>Adds a yard or corrects one.</summary>
internal sealed class SaveYard(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        /// <summary>The yard to correct; null adds one.</summary>
        public int? Id { get; init; }

        public string Name { get; set; } = "";

        public string Latitude { get; set; } = "";

        public string Longitude { get; set; } = "";
    }

    public async Task<FormOutcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!RouteRights.MayChange(viewer))
        {
            return new FormOutcome.NotAllowed();
        }

        Typed typed = new();
        string name = typed.Text(nameof(Command.Name), command.Name, 120, "Write how people call it, such as District yard.");
        double latitude = typed.Number(nameof(Command.Latitude), command.Latitude, -90, 90, "degrees");
        double longitude = typed.Number(nameof(Command.Longitude), command.Longitude, -180, 180, "degrees");
        return await databases.WriteAsync<FormOutcome>(
            async db =>
            {
                Yard? yard = command.Id is null ? null : await db.Yards.SingleOrDefaultAsync(row => row.Id == command.Id, cancel);
                if (command.Id is not null && yard is null)
                {
                    return new FormOutcome.NotAllowed();
                }

                if (await db.Yards.AnyAsync(row => row.Name == name && row.Id != (command.Id ?? 0), cancel))
                {
                    typed.Wrong.Note(nameof(Command.Name), "There is a yard of this name already.");
                }

                if (typed.Wrong.Count > 0)
                {
                    return new FormOutcome.Refused(typed.Wrong);
                }

                if (yard is null)
                {
                    yard = new Yard { Name = name };
                    db.Add(yard);
                }

                (yard.Name, yard.Latitude, yard.Longitude) = (name, latitude, longitude);
                return new FormOutcome.Saved();
            },
            cancel);
    }
}
