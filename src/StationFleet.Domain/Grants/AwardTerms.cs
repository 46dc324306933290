using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Grants;

/// <summary>
/// The rules of a funder that this program reckons with: thresholds, periods and names, as data. Every award names its set, since
/// an older award keeps the older numbers. The award's own terms prevail over all of them.
/// </summary>
public sealed record AwardTerms
{
    /// <summary>What people call the set.</summary>
    public required string Name { get; init; }

    /// <summary>What the funder calls an award's number, such as FAIN.</summary>
    public string NumberName { get; init; } = "Award number";

    /// <summary>A unit that cost at least this much is equipment; a cheaper one is tracked, but is not.</summary>
    public Money EquipmentFrom { get; init; }

    /// <summary>When disposed of: a unit worth no more than this now owes nothing.</summary>
    public Money NothingOwedUpTo { get; init; }

    /// <summary>Of a sale, the most that may be kept for selling and handling.</summary>
    public Money MostForHandling { get; init; }

    /// <summary>Of a sale, the largest share of the proceeds that may be kept for selling and handling.</summary>
    public Percentage HandlingShare { get; init; } = Percentage.Of(10);

    /// <summary>Without instructions from the funder for so long, the recipient decides [d].</summary>
    public int InstructionsWithinDays { get; init; } = 120;

    /// <summary>A physical inventory at least this often [months].</summary>
    public int InventoryEveryMonths { get; init; } = 24;

    /// <summary>Records are kept so long after the end that starts the period [years].</summary>
    public int KeepYears { get; init; } = 3;

    /// <summary>A report of a quarter is due so long after its end [d].</summary>
    public int QuarterDueDays { get; init; } = 30;

    /// <summary>A report of half a year is due so long after its end [d].</summary>
    public int HalfYearDueDays { get; init; } = 30;

    /// <summary>A report of a year is due so long after its end [d].</summary>
    public int YearDueDays { get; init; } = 90;

    /// <summary>The final report of a recipient is due so long after the award's end [d].</summary>
    public int FinalDueDays { get; init; } = 120;

    /// <summary>The final report of a subrecipient is due so long after the award's end [d].</summary>
    public int FinalDueDaysSubrecipient { get; init; } = 90;

    /// <summary>Where the numbers come from.</summary>
    public string Source { get; init; } = "";
}
