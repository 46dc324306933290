using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Grants;

/// <summary>One owner or source of funding with its share.</summary>
/// <param name="Name">The agency, the award's number, or the recipient's own money.</param>
/// <param name="Share">Its share.</param>
/// <param name="Terms">An award's rules; null for owners and own money.</param>
/// <param name="IsFederal">The money is the federal agency's.</param>
/// <param name="Agency">The owner.</param>
/// <param name="Award">The award.</param>
public sealed record Shareholder(
    string Name, Percentage Share, AwardTerms? Terms = null, bool IsFederal = false, AgencyId? Agency = null, AwardId? Award = null);

/// <summary>How an item left.</summary>
/// <param name="Day">When.</param>
/// <param name="Method">How.</param>
/// <param name="SalePrice">What it brought; null when it was not sold.</param>
/// <param name="FairMarketValue">What it was worth then.</param>
/// <param name="Note">To whom, and why.</param>
public sealed record ItemDisposition(DateOnly Day, DispositionMethod Method, Money? SalePrice, Money FairMarketValue, string Note);

/// <summary>One item of the equipment register: a unit bought, or a part beneath it, with the items of 2 CFR 200.313(d)(1).</summary>
public sealed record RegisterItem
{
    /// <summary>Which item.</summary>
    public required EquipmentId Id { get; init; }

    /// <summary>The unit it is a part of; null for a unit.</summary>
    public EquipmentId? Unit { get; init; }

    /// <summary>The station that it is, or belongs to; a part goes with its unit.</summary>
    public StationId? Station { get; init; }

    /// <summary>That station's code; empty without one.</summary>
    public string StationCode { get; init; } = "";

    /// <summary>The agency's own number on it; no two items share one.</summary>
    public required string Tag { get; init; }

    /// <summary>What it is.</summary>
    public required string Description { get; init; }

    /// <summary>Maker and model; may be empty.</summary>
    public string Model { get; init; } = "";

    /// <summary>The maker's number on it; may be empty.</summary>
    public string Serial { get; init; } = "";

    /// <summary>Who paid, with shares that make a whole; a part that came with its unit has the unit's.</summary>
    public IReadOnlyList<Shareholder> Funding { get; init; } = [];

    /// <summary>Who holds title, with shares that make a whole.</summary>
    public IReadOnlyList<Shareholder> Owners { get; init; } = [];

    /// <summary>When it was acquired.</summary>
    public required DateOnly Acquired { get; init; }

    /// <summary>What it cost; null for a part that came with its unit.</summary>
    public Money? Cost { get; init; }

    /// <summary>Where it is, by the placements, or where a person said.</summary>
    public string Place { get; init; } = "";

    /// <summary>Its state as last seen; null when nobody said.</summary>
    public ItemCondition? Condition { get; init; }

    /// <summary>Its use as last seen; null when nobody said.</summary>
    public ItemUse? Use { get; init; }

    /// <summary>When state and use were last seen.</summary>
    public DateOnly? Seen { get; init; }

    /// <summary>How it left; null while it is here.</summary>
    public ItemDisposition? Disposition { get; init; }

    /// <summary>The federal agency's part of its cost; null for a part that came with its unit.</summary>
    public Percentage FederalShare => Percentage.Sum(Funding.Where(source => source.IsFederal).Select(source => source.Share));

    /// <summary>Whether it is equipment by the rules of an award that paid for it; null for a part that came with its unit.</summary>
    public bool? IsEquipment => Cost is { } cost ? Funding.Any(source => source.Terms is { } terms && cost >= terms.EquipmentFrom) : null;

    /// <summary>What each award is owed now that it is disposed of; empty while it is here.</summary>
    public IReadOnlyList<(Shareholder Award, ShareOwed Owed)> Owed => Disposition is not { } left || Cost is null
        ? []
        :
        [
            .. Funding.Where(source => source.Terms is not null).Select(source => (source, Grants.Disposition.Owed(
                left.Method, left.SalePrice ?? left.FairMarketValue, left.FairMarketValue, source.Share, source.Terms!))),
        ];

    /// <summary>Until when its records must be kept at least, now that it is disposed of; null while it is here.</summary>
    public DateOnly? KeepRecordsUntil => Disposition is { } left
        ? left.Day.AddYears(Funding.Select(source => source.Terms?.KeepYears ?? 0).DefaultIfEmpty(0).Max())
        : null;
}
