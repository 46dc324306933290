using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Grants;

/// <summary>Reads the equipment register: each unit with its parts beneath it, where they are now and how they were last seen.</summary>
public sealed class RegisterReader(IDbContextFactory<FleetDbContext> databases)
{
    /// <summary>What the records say when a station stands at no access.</summary>
    public const string InTransit = "In transit";

    /// <summary>The recipient's own money as a source.</summary>
    public const string OwnMoney = "Own money";

    /// <summary>All items, units by tag, each followed by its parts.</summary>
    /// <param name="now">Where they are is that of now.</param>
    /// <param name="zone">The zone of the days on which they were seen.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<IReadOnlyList<RegisterItem>> ReadAsync(DateTimeOffset now, TimeZoneInfo zone, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        List<EquipmentItem> items = await db.Equipment.OrderBy(item => item.Tag).ToListAsync(cancel);
        Rows rows = new(
            zone,
            items.ToDictionary(item => item.Id),
            await db.Stations.ToDictionaryAsync(station => station.Id, station => station.Code, cancel),
            await db.Placements.Where(placement => placement.From <= now && (placement.To == null || placement.To > now))
                .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (placement, access) =>
                    new { placement.StationId, Place = access.Name + ", " + access.Water })
                .ToDictionaryAsync(row => row.StationId, row => row.Place, cancel),
            (await db.EquipmentShares.OrderBy(share => share.AwardId == null).ThenBy(share => share.Id).ToListAsync(cancel)).ToLookup(share => share.ItemId),
            await db.Agencies.ToDictionaryAsync(agency => agency.Id, agency => agency.Name, cancel),
            (await db.Awards.Join(db.AwardTerms, award => award.TermsId, set => set.Id, (award, set) => new { Award = award, set.Terms })
                .ToListAsync(cancel)).ToDictionary(row => row.Award.Id, row => (row.Award, row.Terms)),
            (await db.EquipmentSightings.Where(sighting => sighting.WasSeen && sighting.Condition != null).ToListAsync(cancel))
                .GroupBy(sighting => sighting.ItemId).ToDictionary(seen => seen.Key, seen => seen.MaxBy(sighting => (sighting.At, sighting.Id))!));
        ILookup<EquipmentId?, EquipmentItem> parts = items.ToLookup(item => item.UnitId);
        return [.. parts[null].SelectMany(unit => parts[unit.Id].Prepend(unit)).Select(rows.Item)];
    }

    private sealed record Rows(
        TimeZoneInfo Zone,
        Dictionary<EquipmentId, EquipmentItem> Items,
        Dictionary<StationId, string> Codes,
        Dictionary<StationId, string> Places,
        ILookup<EquipmentId, EquipmentShare> Shares,
        Dictionary<AgencyId, string> Agencies,
        Dictionary<AwardId, (Award Award, AwardTerms Terms)> Awards,
        Dictionary<EquipmentId, EquipmentSighting> Seen)
    {
        public RegisterItem Item(EquipmentItem item)
        {
            // What came with its unit was paid for, and is owned, as the unit.
            EquipmentItem unit = item.UnitId is { } id ? Items[id] : item;
            ILookup<bool, EquipmentShare> shares = Shares[item.Cost is null ? unit.Id : item.Id].ToLookup(share => share.OwnerId is not null);
            StationId? station = unit.StationId;
            EquipmentSighting? seen = Seen.GetValueOrDefault(item.Id);
            return new RegisterItem
            {
                Id = item.Id,
                Unit = item.UnitId,
                Station = station,
                StationCode = station is { } at ? Codes[at] : "",
                Tag = item.Tag,
                Description = item.Description,
                Model = item.Model,
                Serial = item.Serial,
                Owners = [.. shares[true].Select(share => new Shareholder(Agencies[share.OwnerId!.Value], share.Share, Agency: share.OwnerId))],
                Funding = [.. shares[false].Select(Source)],
                Acquired = item.Acquired,
                Cost = item.Cost,
                Place = station is { } stands ? Places.GetValueOrDefault(stands, InTransit) : unit.KeptAt,
                Condition = seen?.Condition,
                Use = seen?.Use,
                Seen = seen is null ? null : DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(seen.At, Zone).DateTime),
                Disposition = Left(item) ?? (item.Cost is null ? Left(unit) : null),
            };
        }

        private Shareholder Source(EquipmentShare share) => share.AwardId is { } id
            ? new Shareholder(Awards[id].Award.Number, share.Share, Awards[id].Terms, Awards[id].Award.IsFederal, Award: id)
            : new Shareholder(OwnMoney, share.Share);

        private static ItemDisposition? Left(EquipmentItem item) => item is { DisposedOn: { } day, DisposedHow: { } how }
            ? new ItemDisposition(day, how, item.SalePrice, item.FairMarketValue ?? default, item.DisposedNote)
            : null;
    }
}
