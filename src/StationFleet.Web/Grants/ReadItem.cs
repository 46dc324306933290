using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>One item of the register, what was seen of it, and what its form offers.</summary>
public sealed class ReadItem(
    IDbContextFactory<FleetDbContext> databases, ReadRegister register, FleetClock clock, IOptions<FleetOptions> options, IOptions<GrantOptions> grants)
{
    public sealed record Seen(string When, string Who, string What, string Note);

    public sealed record Choice(int Id, string Name);

    /// <param name="Item">The item; null when the form adds one.</param>
    /// <param name="Parts">The parts beneath it.</param>
    /// <param name="Facts">What the register holds, by name.</param>
    public sealed record View(
        RegisterItem? Item,
        IReadOnlyList<RegisterItem> Parts,
        IReadOnlyList<(string Name, string Value)> Facts,
        IReadOnlyList<Seen> History,
        IReadOnlyList<Choice> Agencies,
        IReadOnlyList<Choice> Awards,
        IReadOnlyList<string> Stations,
        IReadOnlyList<string> Units,
        string KeptAt,
        bool MayChange,
        DateOnly Today)
    {
        /// <summary>The form as the item stands.</summary>
        public SaveItem.Command Form()
        {
            SaveItem.Command command = new() { Id = Item?.Id, KeptAt = KeptAt };
            if (Item is { } item)
            {
                (command.Tag, command.Description, command.Model, command.Serial) = (item.Tag, item.Description, item.Model, item.Serial);
                (command.Acquired, command.Cost) = (item.Acquired.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), TypedMoney.ForField(item.Cost));
                (command.Unit, command.Station) = (UnitTag, item.StationCode);
                bool isOwn = item.Cost is not null;
                item.Owners.Where(_ => isOwn).ToList().ForEach(owner => command.Owners[owner.Agency!.Value.Value] = Percent(owner));
                item.Funding.Where(_ => isOwn).ToList().ForEach(source => command.Funding[source.Award?.Value ?? 0] = Percent(source));
            }

            foreach (Choice agency in Agencies)
            {
                command.Owners.TryAdd(agency.Id, Item is null && agency == Agencies[0] && Agencies.Count == 1 ? "100" : "");
            }

            foreach (Choice award in Awards)
            {
                command.Funding.TryAdd(award.Id, "");
            }

            return command;
        }

        /// <summary>The tag of the unit it is a part of.</summary>
        public required string UnitTag { get; init; }

        private static string Percent(Shareholder holder) => (holder.Share.Hundredths / 100m).ToString("0.##", CultureInfo.InvariantCulture);
    }

    public async Task<View?> HandleAsync(Viewer viewer, EquipmentId? id, CancellationToken cancel)
    {
        IReadOnlyList<RegisterItem> items = await register.ItemsAsync(viewer, cancel);
        RegisterItem? item = items.FirstOrDefault(row => row.Id == id);
        if (id is not null && item is null)
        {
            return null;
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        List<EquipmentSighting> seen = item is null ? [] : await db.EquipmentSightings.Where(sighting => sighting.ItemId == item.Id)
            .OrderByDescending(sighting => sighting.At).ToListAsync(cancel);
        List<Choice> awards = [.. (await db.Awards.OrderBy(award => award.Number).ToListAsync(cancel)).Select(award => new Choice(award.Id.Value, award.Number))];
        return new View(
            item,
            [.. items.Where(part => part.Unit == id && id is not null)],
            item is null ? [] : [.. Facts(item)],
            [.. seen.Select(SeenOf)],
            [.. (await db.Agencies.OrderBy(agency => agency.Name).ToListAsync(cancel)).Select(agency => new Choice(agency.Id.Value, agency.Name))],
            [.. awards, new Choice(0, RegisterReader.OwnMoney)],
            await db.Stations.VisibleTo(viewer).OrderBy(station => station.Code).Select(station => station.Code).ToListAsync(cancel),
            [.. items.Where(unit => unit.Unit is null && unit.Id != id && unit.Disposition is null).Select(unit => unit.Tag)],
            id is { } own ? await db.Equipment.Where(row => row.Id == own).Select(row => row.KeptAt).SingleAsync(cancel) : "",
            viewer.MayKeepBooks(),
            LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone))
        {
            UnitTag = items.FirstOrDefault(unit => unit.Id == item?.Unit)?.Tag ?? "",
        };
    }

    private Seen SeenOf(EquipmentSighting sighting)
    {
        IReadOnlyList<string> differences = Inventory.Differences(sighting.ToSighting());
        string found = string.Join(", ", new[]
        {
            sighting.WasSeen ? "seen" : "not seen",
            sighting.Condition is { } condition ? GrantWords.Spoken(condition).ToLowerInvariant() : "",
            sighting.Use is { } use ? GrantWords.Spoken(use).ToLowerInvariant() : "",
            sighting.Place,
        }.Where(word => word.Length > 0));
        string resolved = differences.Count == 0 ? "" : sighting.Resolution is { } how ? $" Resolved: {how}" : sighting.InventoryId is null ? "" : " Not resolved yet.";
        return new Seen(
            LocalTimes.Say(sighting.At, options.Value.Zone), sighting.Who,
            $"{(sighting.InventoryId is null ? "" : "Inventory: ")}{found}",
            string.Join(" ", [sighting.Note, .. differences]).Trim() + resolved);
    }

    private IEnumerable<(string Name, string Value)> Facts(RegisterItem item)
    {
        string sign = grants.Value.CurrencySign;
        yield return ("Number", item.Tag);
        yield return ("Maker and model", Or(item.Model));
        yield return ("Serial number", Or(item.Serial));
        yield return ("Source of funding", item.Unit is not null && item.Cost is null ? $"with its unit: {GrantWords.List(item.Funding)}" : GrantWords.List(item.Funding));
        yield return ("Title holder", GrantWords.List(item.Owners));
        yield return ("Acquired", GrantWords.Day(item.Acquired));
        yield return ("Cost", item.Cost?.Say(sign) ?? "came with its unit");
        if (item.Cost is not null)
        {
            yield return ("Federal share of the cost", item.FederalShare.ToString());
            yield return ("Equipment by its awards' thresholds", item.IsEquipment == true ? "yes" : "no: it is tracked all the same");
        }

        yield return ("Where", item.Disposition is null ? $"{Or(item.Place)}{(item.StationCode.Length > 0 ? $" ({item.StationCode})" : "")}" : "disposed of");
        yield return ("Use and condition", item.Condition is { } condition
            ? $"{(item.Use is { } use ? $"{GrantWords.Spoken(use)}, " : "")}{GrantWords.Spoken(condition).ToLowerInvariant()}, on {GrantWords.Day(item.Seen!.Value)}"
            : "nobody noted it yet");
        if (item.Disposition is { } left)
        {
            string price = left.SalePrice is { } sold ? $" for {sold.Say(sign)}" : "";
            yield return ("Disposed of", $"{GrantWords.Spoken(left.Method)} on {GrantWords.Day(left.Day)}{price}; fair market value {left.FairMarketValue.Say(sign)}. {left.Note}".Trim());
            foreach ((Shareholder award, ShareOwed owed) in item.Owed)
            {
                yield return ($"Owed to {award.Name}", $"{owed.Owed.Say(sign)}. {owed.Reason}"
                    + (owed.Share > default(Domain.Quantities.Money) ? $" {award.Share} makes {owed.Share.Say(sign)}; kept {owed.KeptForHandling.Say(sign)}." : ""));
            }

            yield return ("Keep its records until", $"{GrantWords.Day(item.KeepRecordsUntil!.Value)} at least");
        }
    }

    private static string Or(string text) => text.Length > 0 ? text : "–";
}
