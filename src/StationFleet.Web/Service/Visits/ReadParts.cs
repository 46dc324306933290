using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Service.Visits;

/// <summary>Spare parts as the Office shows them; public, since its page keeps it.</summary>
/// <param name="Moves">What came and went lately, newest first.</param>
public sealed record PartsView(IReadOnlyList<PartsView.Row> Rows, IReadOnlyList<PartsView.Move> Moves, bool MayChange)
{
    public sealed record Row(int Id, string Name, int InTruck, int InYard, int ReorderAt)
    {
        /// <summary>Whether more should be ordered.</summary>
        public bool IsShort => InTruck + InYard <= ReorderAt;

        /// <summary>Whether a count cannot be right: more was taken than was there.</summary>
        public bool IsWrong => InTruck < 0 || InYard < 0;
    }

    public sealed record Move(DateTimeOffset At, string Part, PartPlace Place, int Change, string Who, string? Note, string? Station);
}

/// <summary>Reads the spare parts with their counts.</summary>
internal sealed class ReadParts(IDbContextFactory<FleetDbContext> databases)
{
    private const int MostMoves = 30;

    public async Task<PartsView> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        VisitOffers offers = await VisitOffers.ReadAsync(db, cancel);
        Dictionary<int, int> reorder = await db.Parts.ToDictionaryAsync(part => part.Id, part => part.ReorderAt, cancel);
        return new PartsView(
            [.. offers.Parts.Select(part => new PartsView.Row(part.Id, part.Name, part.InTruck, part.InYard, reorder[part.Id]))],
            await db.PartMoves.OrderByDescending(move => move.Id).Take(MostMoves)
                .Select(move => new PartsView.Move(
                    move.At,
                    db.Parts.Where(part => part.Id == move.PartId).Select(part => part.Name).First(),
                    move.Place,
                    move.Change,
                    move.Who,
                    move.Note,
                    db.ServiceVisits.Where(visit => visit.Id == move.VisitId)
                        .Select(visit => db.Stations.Where(station => station.Id == visit.StationId).Select(station => station.Code).First()).FirstOrDefault()))
                .ToListAsync(cancel),
            TicketDesk.MayAct(viewer));
    }
}
