using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Seasons;

/// <summary>What a figure counts in.</summary>
public enum FigureUnit
{
    /// <summary>A number of things.</summary>
    Count,

    /// <summary>A number of things for each of others, with two decimals.</summary>
    Ratio,

    /// <summary>Days of 24 hours.</summary>
    Days,

    /// <summary>Hours.</summary>
    Hours,

    /// <summary>A share of a whole, 0 to 1.</summary>
    Share,

    /// <summary>Litres inside; gallons or litres for people.</summary>
    Volume,

    /// <summary>The installation's currency, with two decimals.</summary>
    Money,
}

/// <summary>What a figure means: the one text that page, workbook and table description show.</summary>
/// <param name="Key">Its name in tables for machines, such as <c>days_in_service</c>.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="Unit">What it counts in.</param>
/// <param name="Definition">How it is made, for the reader who must answer for it.</param>
/// <param name="Source">Where the definition comes from.</param>
public sealed record FigureDefinition(string Key, string Name, FigureUnit Unit, string Definition, string Source)
{
    /// <summary>The unit's short name; empty for a count.</summary>
    /// <param name="system">The reader's units.</param>
    public string UnitName(UnitSystem system) => Unit switch
    {
        FigureUnit.Days => "d",
        FigureUnit.Hours => "h",
        FigureUnit.Share => "%",
        FigureUnit.Volume => Units.VolumeUnit(system),
        _ => "",
    };
}

/// <summary>A figure with what it means.</summary>
/// <param name="Definition">What it means.</param>
/// <param name="Value">The value in its unit, volumes in litres; null when it is not known or nothing applies.</param>
public readonly record struct FigureValue(FigureDefinition Definition, double? Value);
