namespace StationFleet.Domain.Grants;

/// <summary>The state that a person found an item in.</summary>
public enum ItemCondition
{
    /// <summary>As bought.</summary>
    New,

    /// <summary>Works as it should.</summary>
    Good,

    /// <summary>Works, worn.</summary>
    Fair,

    /// <summary>Works badly.</summary>
    Poor,

    /// <summary>Does not work.</summary>
    Broken,
}

/// <summary>What an item is used for.</summary>
public enum ItemUse
{
    /// <summary>In use for what it was bought for.</summary>
    InUse,

    /// <summary>Put away, to be used again.</summary>
    Stored,

    /// <summary>Lent to somebody.</summary>
    Lent,

    /// <summary>Used for other work.</summary>
    OtherWork,

    /// <summary>No longer needed.</summary>
    NotNeeded,
}

/// <summary>What the records say of an item, and what a person found at an inventory.</summary>
/// <param name="ExpectedPlace">Where the records have it; empty when they do not say.</param>
/// <param name="ExpectedSerial">The serial number on record; empty when there is none.</param>
/// <param name="WasSeen">The person saw it.</param>
/// <param name="Place">Where it was seen.</param>
/// <param name="Serial">The serial number on it; empty when nobody looked.</param>
/// <param name="Condition">The state it was found in.</param>
public sealed record Sighting(
    string ExpectedPlace, string ExpectedSerial, bool WasSeen, string Place, string Serial, ItemCondition? Condition);

/// <summary>Compares an inventory with the records, and says when the next one is due.</summary>
public static class Inventory
{
    /// <summary>What does not agree, a sentence each; empty when all does.</summary>
    /// <param name="sighting">What was found.</param>
    public static IReadOnlyList<string> Differences(Sighting sighting)
    {
        ArgumentNullException.ThrowIfNull(sighting);
        if (!sighting.WasSeen)
        {
            return ["It was not seen."];
        }

        List<string> differences = [];
        if (sighting.Place.Length > 0 && sighting.ExpectedPlace.Length > 0 && !IsSame(sighting.Place, sighting.ExpectedPlace))
        {
            differences.Add($"It was seen at {sighting.Place}; the records have it at {sighting.ExpectedPlace}.");
        }

        if (sighting.Serial.Length > 0 && !IsSame(sighting.Serial, sighting.ExpectedSerial))
        {
            differences.Add(sighting.ExpectedSerial.Length == 0
                ? $"It bears the serial number {sighting.Serial}; the records have none."
                : $"It bears the serial number {sighting.Serial}; the records say {sighting.ExpectedSerial}.");
        }

        if (sighting.Condition is ItemCondition.Broken)
        {
            differences.Add("It does not work.");
        }

        return differences;
    }

    /// <summary>The day by which the next inventory must be done.</summary>
    /// <param name="last">The day of the last one; null when there was none.</param>
    /// <param name="firstAcquired">The day on which the first item was acquired.</param>
    /// <param name="everyMonths">How often at least [months].</param>
    public static DateOnly Due(DateOnly? last, DateOnly firstAcquired, int everyMonths) => (last ?? firstAcquired).AddMonths(everyMonths);

    private static bool IsSame(string one, string other) => string.Equals(one.Trim(), other.Trim(), StringComparison.OrdinalIgnoreCase);
}
