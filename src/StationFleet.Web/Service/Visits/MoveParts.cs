using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Visits;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Visits;

/// <summary>Parts were counted, bought or carried: each is a move of its own, and none is overwritten.</summary>
internal sealed class MoveParts(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    internal enum What
    {
        CountedInTruck,
        CountedInYard,
        BoughtForYard,
        CarriedToTruck,
        CarriedToYard,
    }

    internal sealed class Command
    {
        public int Part { get; init; }

        public string What { get; set; } = nameof(MoveParts.What.CarriedToTruck);

        public string Number { get; set; } = "";
    }

    public async Task<FormOutcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => TicketDesk.MayAct(viewer)
        ? await databases.WriteAsync(db => MoveAsync(db, viewer, command, cancel), cancel)
        : new FormOutcome.NotAllowed();

    private async Task<FormOutcome> MoveAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!await db.Parts.AnyAsync(part => part.Id == command.Part, cancel))
        {
            return new FormOutcome.NotAllowed();
        }

        Typed typed = new();
        int number = SavePart.Whole(typed, nameof(Command.Number), command.Number);
        if (!Enum.GetNames<What>().Contains(command.What, StringComparer.Ordinal))
        {
            typed.Wrong.Note(nameof(Command.What), "Choose one of the list.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new FormOutcome.Refused(typed.Wrong);
        }

        switch (Enum.Parse<What>(command.What))
        {
            case What.CountedInTruck:
                Add(PartPlace.Truck, number - await HeldAsync(PartPlace.Truck), "Counted");
                break;
            case What.CountedInYard:
                Add(PartPlace.Yard, number - await HeldAsync(PartPlace.Yard), "Counted");
                break;
            case What.BoughtForYard:
                Add(PartPlace.Yard, number, "Bought");
                break;
            case What.CarriedToTruck:
                Add(PartPlace.Yard, -number, "Carried to the truck");
                Add(PartPlace.Truck, number, "Carried from the yard");
                break;
            default:
                Add(PartPlace.Truck, -number, "Carried to the yard");
                Add(PartPlace.Yard, number, "Carried from the truck");
                break;
        }

        return new FormOutcome.Saved();

        void Add(PartPlace place, int change, string note) => db.Add(new PartMove
        {
            PartId = command.Part, Place = place, Change = change, At = clock.GetUtcNow(), Who = viewer.Name, Note = note,
        });

        Task<int> HeldAsync(PartPlace place) => db.PartMoves.Where(move => move.PartId == command.Part && move.Place == place).SumAsync(move => move.Change, cancel);
    }
}
