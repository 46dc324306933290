using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Reports.Tables;

namespace StationFleet.Reports.Grants;

/// <summary>The equipment register as a table: a row for each item, with the items of 2 CFR 200.313(d)(1).</summary>
public static class RegisterTable
{
    /// <param name="items">The register.</param>
    /// <param name="currency">The currency, as the columns' heads name it.</param>
    public static ReportTable Of(IReadOnlyList<RegisterItem> items, string currency)
    {
        ArgumentNullException.ThrowIfNull(items);
        Dictionary<EquipmentId, string> tags = items.ToDictionary(item => item.Id, item => item.Tag);
        return new ReportTable("register", "Equipment", Columns(currency), [.. items.Select(item => Row(item, tags))])
        {
            Note = GrantWords.TermsPrevail,
        };
    }

    private static ReportColumn[] Columns(string currency) =>
    [
        Words("tag", "Tag", "The agency's own number on the item."),
        Words("part_of", "Part of", "The tag of the unit it is a part of; empty for a unit."),
        Words("description", "Description", "What it is."),
        Words("model", "Maker and model", "Maker and model."),
        Words("serial", "Serial number", "The maker's number on it."),
        Words("funding", "Source of funding", "The awards and own money that paid, with their shares; a part without a cost came with its unit."),
        Words("title_holder", "Title holder", "Who holds title, with shares."),
        new("acquired", "Acquired", ColumnKind.Date, "", "The day of acquisition."),
        new("cost", $"Cost [{currency}]", ColumnKind.Number, currency, "What it cost; empty for a part that came with its unit."),
        new("federal_share", "Federal share", ColumnKind.Number, "1", "The federal agency's part of its cost, 0 to 1."),
        Words("is_equipment", "Equipment", "Whether it reached the equipment threshold of an award that paid for it."),
        Words("location", "Location", "Where it is, by the placements of its station."),
        Words("condition", "Condition", "Its state as last seen."),
        Words("use", "Use", "Its use as last seen."),
        new("seen", "Seen on", ColumnKind.Date, "", "When state and use were last seen."),
        new("disposed", "Disposed of on", ColumnKind.Date, "", "When it left; empty while it is here."),
        Words("disposed_how", "How", "How it left."),
        new("sale_price", $"Sale price [{currency}]", ColumnKind.Number, currency, "What it brought."),
        new("fair_market_value", $"Fair market value [{currency}]", ColumnKind.Number, currency, "What it was worth when it left."),
        new("owed", $"Owed to funders [{currency}]", ColumnKind.Number, currency, "What the awards are owed by the rules on record."),
        Words("disposed_note", "Note", "To whom it went, and why."),
    ];

    private static IReadOnlyList<Cell> Row(RegisterItem item, Dictionary<EquipmentId, string> tags) =>
    [
        Cell.Of(item.Tag),
        Cell.Of(item.Unit is { } unit ? tags.GetValueOrDefault(unit) : null),
        Cell.Of(item.Description),
        Cell.Of(item.Model),
        Cell.Of(item.Serial),
        Cell.Of(GrantWords.List(item.Funding)),
        Cell.Of(GrantWords.List(item.Owners)),
        new Cell.Day(item.Acquired),
        Cell.Money(item.Cost),
        item.Cost is null ? Cell.None : Cell.Share((double)item.FederalShare.Fraction),
        Cell.Of(item.IsEquipment switch { true => "yes", false => "no", null => null }),
        Cell.Of(item.Disposition is null ? item.Place : null),
        Cell.Of(item.Condition is { } condition ? GrantWords.Spoken(condition) : null),
        Cell.Of(item.Use is { } use ? GrantWords.Spoken(use) : null),
        Cell.On(item.Seen),
        Cell.On(item.Disposition?.Day),
        Cell.Of(item.Disposition is { } left ? GrantWords.Spoken(left.Method) : null),
        Cell.Money(item.Disposition?.SalePrice),
        Cell.Money(item.Disposition?.FairMarketValue),
        item.Owed.Count == 0 ? Cell.None : Cell.Money(Money.Sum(item.Owed.Select(owed => owed.Owed.Owed))),
        Cell.Of(item.Disposition?.Note),
    ];

    private static ReportColumn Words(string key, string title, string definition) => new(key, title, ColumnKind.Text, "", definition);
}
