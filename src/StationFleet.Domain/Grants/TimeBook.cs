using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Grants;

/// <summary>Whose time it is.</summary>
public enum TimeKind
{
    /// <summary>Paid from the award.</summary>
    Paid,

    /// <summary>Paid by the recipient, as match.</summary>
    Match,

    /// <summary>Given by a volunteer, as match.</summary>
    Volunteer,
}

/// <summary>A person's minutes on one day.</summary>
/// <param name="Person">The person.</param>
/// <param name="Day">The day.</param>
/// <param name="StartMinute">When it began, in minutes since midnight; 0 to 1439.</param>
/// <param name="Minutes">How long; above 0.</param>
/// <param name="Award">The award's number; null when no award is charged.</param>
public sealed record TimeSlice(string Person, DateOnly Day, int StartMinute, int Minutes, string? Award)
{
    /// <summary>When it ended, in minutes since midnight.</summary>
    public int EndMinute => StartMinute + Minutes;
}

/// <summary>Checks time before it is booked. Entries are never edited; a wrong one is reversed and booked anew.</summary>
public static class TimeBook
{
    /// <summary>Minutes of a day.</summary>
    public const int MinutesOfDay = 24 * 60;

    /// <summary>Why an entry cannot be booked, in a sentence; null when it can.</summary>
    /// <param name="entry">The new entry.</param>
    /// <param name="booked">The person's other entries of that day that stand (neither reversed nor reversals).</param>
    /// <remarks>Source: 2 CFR 200.430(g)(1): records of pay support the total activity, not over 100 %, distributed among awards.</remarks>
    public static string? Fault(TimeSlice entry, IReadOnlyCollection<TimeSlice> booked)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(booked);
        if (entry.Minutes <= 0)
        {
            return "Write how long it took.";
        }

        if (entry.EndMinute > MinutesOfDay)
        {
            return "It ends after midnight: book the rest on the next day.";
        }

        int together = booked.Sum(other => other.Minutes) + entry.Minutes;
        if (together > MinutesOfDay)
        {
            return $"With this {entry.Person} would have worked {together / 60.0:0.#} hours on one day.";
        }

        return booked.Where(other => other.StartMinute < entry.EndMinute && entry.StartMinute < other.EndMinute)
            .OrderBy(other => other.StartMinute).FirstOrDefault() is { } same
            ? $"{Clock(same.StartMinute)} to {Clock(same.EndMinute)} of that day is booked already{(same.Award is { } award ? $" on {award}" : "")}: the same minutes cannot be charged twice."
            : null;
    }

    /// <summary>What the time is worth, to the nearest hundredth.</summary>
    /// <param name="minutes">How long; negative for a reversal.</param>
    /// <param name="perHour">The rate.</param>
    public static Money Worth(int minutes, Money perHour) => Money.Of(perHour.Amount * minutes / 60);

    private static string Clock(int minute) => $"{minute / 60:00}:{minute % 60:00}";
}
