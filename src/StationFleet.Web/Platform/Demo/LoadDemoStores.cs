using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Visits;

namespace StationFleet.Web.Platform.Demo;

/// <summary>Where the demo's crew may bring what it pumps out, and the spare parts in its truck and on its shelf; made once.</summary>
internal sealed class LoadDemoStores(IDbContextFactory<FleetDbContext> databases)
{
    private const string Crew = "Field crew";
    private static readonly DateTimeOffset Counted = new(2026, 5, 4, 15, 0, 0, TimeSpan.Zero);

    private static readonly (string Name, int ReorderAt, int Truck, int Yard)[] Parts =
    [
        ("Drain-plug wrench on its chain", 1, 1, 2), ("Brush", 2, 2, 4), ("Grabber", 1, 1, 1), ("Vacuum hose, 15 ft", 1, 1, 1),
        ("Filter bag", 4, 3, 6), ("Fuse, 30 A", 5, 6, 10), ("Padlock, keyed alike", 1, 1, 0),
    ];

    public Task HandleAsync(CancellationToken cancel) => databases.WriteAsync(
        async db =>
        {
            if (await db.Parts.AnyAsync(cancel) || await db.DisposalSites.AnyAsync(cancel))
            {
                return;
            }

            db.AddRange(
                new DisposalSite { Name = "District treatment works", Permission = "Juniper Basin Watershed District, permit W-14", LastDay = new DateOnly(2027, 3, 31) },
                new DisposalSite { Name = "Sorrel campground holding tank", Permission = "Sorrel Forest Campgrounds, letter of 2 April 2026", LastDay = new DateOnly(2026, 7, 31) });
            List<Part> parts = [.. Parts.Select(part => new Part { Name = part.Name, ReorderAt = part.ReorderAt })];
            db.AddRange(parts);
            await db.SaveChangesAsync(cancel);
            db.AddRange(parts.Zip(Parts, (part, known) => new[] { Move(part, PartPlace.Truck, known.Truck), Move(part, PartPlace.Yard, known.Yard) })
                .SelectMany(moves => moves).Where(move => move.Change > 0));
        },
        cancel);

    private static PartMove Move(Part part, PartPlace place, int count) =>
        new() { PartId = part.Id, Place = place, Change = count, At = Counted, Who = Crew, Note = "Counted at the start of the season." };
}
