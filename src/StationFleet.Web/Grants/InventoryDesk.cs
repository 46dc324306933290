using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Grants;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>A physical inventory, from its beginning to its end: what is still to see, what does not agree, and how that was resolved.</summary>
internal sealed class InventoryDesk(
    IDbContextFactory<FleetDbContext> databases, ReadRegister register, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed record Line(RegisterItem Item, EquipmentSighting? Seen, IReadOnlyList<string> Differences)
    {
        public bool IsSettled => Seen is not null && (Differences.Count == 0 || Seen.Resolution is not null);
    }

    internal sealed record View(EquipmentInventory Inventory, IReadOnlyList<Line> Lines, bool MayFinish, string Begun)
    {
        public int ToSee => Lines.Count(line => line.Seen is null);

        public int ToResolve => Lines.Count(line => line.Seen is not null && !line.IsSettled);
    }

    internal sealed record Past(int Id, string Begun, string By, string? Finished);

    public async Task<IReadOnlyList<Past>> ListAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return
        [
            .. (await db.EquipmentInventories.AsNoTracking().OrderByDescending(inventory => inventory.Id).ToListAsync(cancel)).Select(inventory => new Past(
                inventory.Id, Say(inventory.Begun), inventory.BegunBy, inventory.Finished is { } at ? Say(at) : null)),
        ];
    }

    /// <summary>Begins an inventory, or goes on with the one that is open; null when the person may not.</summary>
    public async Task<int?> BeginAsync(Viewer viewer, CancellationToken cancel) => !viewer.MayLog() ? null : await databases.WriteAsync(
        async db =>
        {
            EquipmentInventory? open = await db.EquipmentInventories.FirstOrDefaultAsync(inventory => inventory.Finished == null, cancel);
            if (open is null)
            {
                open = new EquipmentInventory { Begun = clock.GetUtcNow(), BegunBy = viewer.Name };
                db.Add(open);
                await db.SaveChangesAsync(cancel);
            }

            return (int?)open.Id;
        },
        cancel);

    public async Task<View?> ReadAsync(Viewer viewer, int number, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        if (await db.EquipmentInventories.AsNoTracking().FirstOrDefaultAsync(row => row.Id == number, cancel) is not { } inventory)
        {
            return null;
        }

        // The newest word on an item counts.
        Dictionary<EquipmentId, EquipmentSighting> seen = (await db.EquipmentSightings.AsNoTracking()
            .Where(sighting => sighting.InventoryId == number).ToListAsync(cancel))
            .GroupBy(sighting => sighting.ItemId).ToDictionary(each => each.Key, each => each.MaxBy(sighting => sighting.Id)!);
        IReadOnlyList<RegisterItem> items = await register.ItemsAsync(viewer, cancel);
        return new View(
            inventory,
            [
                .. items.Where(item => seen.ContainsKey(item.Id) || (inventory.Finished is null && item.Disposition is null)).Select(item =>
                {
                    EquipmentSighting? sighting = seen.GetValueOrDefault(item.Id);
                    return new Line(item, sighting, sighting is null ? [] : Inventory.Differences(sighting.ToSighting()));
                }),
            ],
            viewer.MayKeepBooks(),
            Say(inventory.Begun));
    }

    /// <summary>Says how an item's differences were resolved.</summary>
    /// <returns>What is wrong, in a sentence; null when it was done.</returns>
    public async Task<string?> ResolveAsync(Viewer viewer, int number, int sighting, string how, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks())
        {
            return "Only those who keep the register resolve differences.";
        }

        if (how.Trim().Length is 0 or > 1000)
        {
            return "Write in a line how it was resolved.";
        }

        return await databases.WriteAsync(
            async db =>
            {
                EquipmentSighting? row = await db.EquipmentSightings.FirstOrDefaultAsync(
                    each => each.Id == sighting && each.InventoryId == number && each.Resolution == null, cancel);
                if (row is null)
                {
                    return "It is resolved already.";
                }

                (row.Resolution, row.ResolvedBy, row.Resolved) = (how.Trim(), viewer.Name, clock.GetUtcNow());
                return (string?)null;
            },
            cancel);
    }

    /// <summary>Ends an inventory whose items were all seen or missed and whose differences are resolved.</summary>
    /// <returns>What is wrong, in a sentence; null when it was done.</returns>
    public async Task<string?> FinishAsync(Viewer viewer, int number, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks() || viewer.Agency is not null)
        {
            return "Only those who keep the whole register finish an inventory.";
        }

        if (await ReadAsync(viewer, number, cancel) is not { } view || view.ToSee > 0 || view.ToResolve > 0)
        {
            return "It is not finished: see every item, and resolve each difference.";
        }

        await databases.WriteAsync(
            async db =>
            {
                EquipmentInventory row = await db.EquipmentInventories.SingleAsync(inventory => inventory.Id == number, cancel);
                row.Finished ??= clock.GetUtcNow();
            },
            cancel);
        return null;
    }

    private string Say(DateTimeOffset at) =>
        TimeZoneInfo.ConvertTime(at, options.Value.Zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);
}
