using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Service.Visits;

/// <summary>What the form of a visit offers to choose from; public, since parts of the ticket's page take it as a parameter.</summary>
/// <param name="Sites">Approved disposal sites.</param>
/// <param name="Parts">Counted spare parts.</param>
/// <param name="Others">Other open tickets at the station.</param>
/// <param name="Awards">Awards that visits named before.</param>
public sealed record VisitOffers(
    IReadOnlyList<VisitOffers.Site> Sites, IReadOnlyList<VisitOffers.Spare> Parts, IReadOnlyList<TicketRow> Others, IReadOnlyList<string> Awards)
{
    /// <summary>Nothing to choose.</summary>
    public static VisitOffers None { get; } = new([], [], [], []);

    /// <param name="LastDay">The last day of its permission; null when it has no end.</param>
    public sealed record Site(int Id, string Name, string Permission, DateOnly? LastDay);

    public sealed record Spare(int Id, string Name, int InTruck, int InYard);

    /// <summary>Reads sites, parts and awards; the other tickets are the page's to read.</summary>
    public static async Task<VisitOffers> ReadAsync(FleetDbContext db, CancellationToken cancel)
    {
        List<Site> sites = await db.DisposalSites.OrderBy(site => site.Name)
            .Select(site => new Site(site.Id, site.Name, site.Permission, site.LastDay)).ToListAsync(cancel);
        var counts = await db.PartMoves.GroupBy(move => new { move.PartId, move.Place })
            .Select(group => new { group.Key.PartId, group.Key.Place, Count = group.Sum(move => move.Change) }).ToListAsync(cancel);
        int CountOf(int part, PartPlace place) => counts.Where(row => row.PartId == part && row.Place == place).Sum(row => row.Count);
        List<Spare> parts = [.. (await db.Parts.OrderBy(part => part.Name).Select(part => new { part.Id, part.Name }).ToListAsync(cancel))
            .Select(part => new Spare(part.Id, part.Name, CountOf(part.Id, PartPlace.Truck), CountOf(part.Id, PartPlace.Yard)))];
        List<string> awards = await db.ServiceVisits.Where(visit => visit.Award != null).Select(visit => visit.Award!).Distinct().OrderBy(award => award).ToListAsync(cancel);
        return new VisitOffers(sites, parts, [], awards);
    }
}
