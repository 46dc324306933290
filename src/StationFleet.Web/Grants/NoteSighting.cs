using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Stores what a person saw of an item, with what the records said then; the same form sent twice is one sighting.</summary>
internal sealed class NoteSighting(IDbContextFactory<FleetDbContext> databases, ReadRegister register, FleetClock clock)
{
    internal sealed record Command(
        EquipmentId Item, int? Inventory, string Key, string Seen, string Place, string Serial, string Condition, string Use, string Note);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Stored : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        RegisterItem? item = (await register.ItemsAsync(viewer, cancel)).FirstOrDefault(row => row.Id == command.Item);
        if (!viewer.MayLog() || item is null || !FormKey.IsWhole(command.Key))
        {
            return new Outcome.NotAllowed();
        }

        bool wasSeen = command.Seen == "yes";
        WrongFields wrong = [];
        if (!wasSeen && command.Seen != "no")
        {
            wrong.Note("Seen", "Say whether you saw it.");
        }

        ItemCondition? condition = Read<ItemCondition>(command.Condition);
        if (wasSeen && condition is null)
        {
            wrong.Note("Condition", "Say what state it is in.");
        }

        if (wasSeen && command.Place.Trim().Length is 0 or > 200)
        {
            wrong.Note("Place", "Write where you saw it, in a line.");
        }

        if (command.Note.Length > 1000 || command.Serial.Length > 80)
        {
            wrong.Note("Note", "Write a shorter note.");
        }

        if (wrong.Count > 0)
        {
            return new Outcome.Refused(wrong);
        }

        return await databases.WriteAsync(
            async db =>
            {
                if (await db.EquipmentSightings.AnyAsync(row => row.IdempotencyKey == command.Key, cancel))
                {
                    return new Outcome.Stored();
                }

                if (command.Inventory is { } number && !await db.EquipmentInventories.AnyAsync(row => row.Id == number && row.Finished == null, cancel))
                {
                    return new Outcome.NotAllowed();
                }

                db.Add(new EquipmentSighting
                {
                    ItemId = item.Id,
                    InventoryId = command.Inventory,
                    At = clock.GetUtcNow(),
                    Who = viewer.Name,
                    WasSeen = wasSeen,
                    Place = wasSeen ? command.Place.Trim() : "",
                    Serial = wasSeen ? command.Serial.Trim() : "",
                    Condition = wasSeen ? condition : null,
                    Use = wasSeen ? Read<ItemUse>(command.Use) : null,
                    Note = command.Note.Trim(),
                    ExpectedPlace = item.Place,
                    ExpectedSerial = item.Serial,
                    IdempotencyKey = command.Key,
                });
                return (Outcome)new Outcome.Stored();
            },
            cancel);
    }

    private static TWord? Read<TWord>(string text)
        where TWord : struct, Enum => Enum.TryParse(text, out TWord word) && Enum.IsDefined(word) ? word : null;
}
