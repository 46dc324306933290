using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>The equipment register as a person sees it: of an agency, what it owns or what belongs to its stations.</summary>
public sealed class ReadRegister(
    IDbContextFactory<FleetDbContext> databases,
    RegisterReader register,
    FleetClock clock,
    IOptions<FleetOptions> options,
    IOptions<GrantOptions> grants)
{
    /// <summary>One line of the page.</summary>
    public sealed record Row(
        int Id, bool IsPart, string Tag, string Description, string Model, string Funding, string Owners, string Acquired, string Cost,
        string Equipment, string Place, string Seen, bool IsGone);

    /// <param name="Sentence">What there is, and when it must be looked at.</param>
    /// <param name="IsOverdue">The inventory is overdue.</param>
    /// <param name="OpenInventory">The inventory that goes on now; null when none does.</param>
    /// <param name="MayChange">Whether the person may add items.</param>
    public sealed record View(string Sentence, bool IsOverdue, int? OpenInventory, bool MayChange, IReadOnlyList<Row> Rows);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        IReadOnlyList<RegisterItem> items = await ItemsAsync(viewer, cancel);
        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        DateTimeOffset? last = await db.EquipmentInventories.Where(inventory => inventory.Finished != null)
            .MaxAsync(inventory => inventory.Finished, cancel);
        int? open = await db.EquipmentInventories.Where(inventory => inventory.Finished == null)
            .Select(inventory => (int?)inventory.Id).FirstOrDefaultAsync(cancel);
        RegisterItem[] here = [.. items.Where(item => item.Disposition is null)];
        DateOnly? due = here.Length == 0 ? null : Inventory.Due(
            last is { } at ? LocalCalendar.DateOf(at, options.Value.Zone) : null,
            here.Min(item => item.Acquired),
            here.SelectMany(item => item.Funding).Select(source => source.Terms?.InventoryEveryMonths).Min() ?? new AwardTerms { Name = "" }.InventoryEveryMonths);
        return new View(Sentence(here, due, today), due < today, open, viewer.MayKeepBooks(), [.. items.Select(RowOf)]);
    }

    /// <summary>The items that a person sees.</summary>
    public async Task<IReadOnlyList<RegisterItem>> ItemsAsync(Viewer viewer, CancellationToken cancel)
    {
        IReadOnlyList<RegisterItem> items = await register.ReadAsync(clock.GetUtcNow(), options.Value.Zone, cancel);
        if (viewer.Agency is not { } agency)
        {
            return items;
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        HashSet<StationId> stations = [.. await db.Stations.VisibleTo(viewer).Select(station => station.Id).ToListAsync(cancel)];
        return [.. items.Where(item => (item.Station is { } at && stations.Contains(at)) || item.Owners.Any(owner => owner.Agency == agency))];
    }

    private string Sentence(RegisterItem[] here, DateOnly? due, DateOnly today)
    {
        if (due is not { } day)
        {
            return "No equipment is on record yet.";
        }

        int units = here.Count(item => item.Unit is null);
        string inventory = day < today
            ? $"an inventory was due on {GrantWords.Day(day)}"
            : $"the next inventory is due on {GrantWords.Day(day)}";
        string cost = Money.Sum(here.Select(item => item.Cost ?? default)).Say(grants.Value.CurrencySign);
        return $"{NumberWords.Capital(NumberWords.Count(units))} {(units == 1 ? "unit" : "units")} with {NumberWords.Count(here.Length - units)} "
            + $"{(here.Length - units == 1 ? "part" : "parts")} cost {cost}; {inventory}.";
    }

    private Row RowOf(RegisterItem item) => new(
        item.Id.Value,
        item.Unit is not null,
        item.Tag,
        item.Description,
        item.Model,
        item.Unit is not null && item.Cost is null ? "with its unit" : GrantWords.List(item.Funding),
        GrantWords.List(item.Owners),
        GrantWords.Day(item.Acquired),
        item.Cost?.Say(grants.Value.CurrencySign) ?? "",
        item.IsEquipment switch { true => "equipment", false => "below the threshold", null => "" },
        item.Disposition is { } left ? $"{GrantWords.Spoken(left.Method)} on {GrantWords.Day(left.Day)}" : item.Place,
        item.Condition is { } condition ? $"{GrantWords.Spoken(condition)}, {GrantWords.Day(item.Seen!.Value)}" : "",
        item.Disposition is not null);
}
