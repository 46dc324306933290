using StationFleet.Domain.Time;

namespace StationFleet.Domain.Sampling;

/// <summary>How a planned sample ended.</summary>
public enum TakingEnd
{
    /// <summary>A grab was taken within its days, or later while its water was still there.</summary>
    Taken,

    /// <summary>The tank was emptied after its last day: the water that it was meant for is gone.</summary>
    Missed,

    /// <summary>A person said that it is not needed any more.</summary>
    Dismissed,
}

/// <summary>A sample that people promised to take from a station's tank.</summary>
/// <param name="Number">Its number.</param>
/// <param name="From">The first local day on which it can be taken.</param>
/// <param name="Due">The last local day; not before the first.</param>
/// <param name="Grabs">How many grabs; null: not said.</param>
/// <param name="LitresPerGrab">How much each of them holds [L]; null: not said.</param>
/// <param name="PlannedAt">From when it is planned.</param>
public sealed record PlannedTaking(int Number, DateOnly From, DateOnly Due, int? Grabs, double? LitresPerGrab, DateTimeOffset PlannedAt)
{
    /// <summary>When a person dismissed it; null: nobody did.</summary>
    public DateTimeOffset? DismissedAt { get; init; }

    /// <summary>How it ended; null while it is open.</summary>
    public TakingEnd? End { get; init; }

    /// <summary>When it ended; null while it is open.</summary>
    public DateTimeOffset? EndedAt { get; init; }

    /// <summary>Whether it is to be taken, seen from an instant.</summary>
    /// <param name="now">The instant.</param>
    public bool IsOpen(DateTimeOffset now) => PlannedAt <= now && !(EndedAt <= now);

    /// <summary>Follows a station's planned samples through what happened to its tank.</summary>
    /// <param name="planned">What was planned, in any order.</param>
    /// <param name="grabs">When grabs were taken, in any order; those of one day are one taking.</param>
    /// <param name="emptyings">When the tank was emptied, in any order.</param>
    /// <param name="zone">The time zone of the days.</param>
    /// <returns>The same, each with its end, by the last day.</returns>
    /// <remarks>
    /// A taking ends one planned sample: the one within whose days it lies and that is due first, else the overdue one that has waited
    /// longest. An emptying counts an hour later, as a grab so soon after it is of the water that went out (<see cref="TankWater"/>).
    /// </remarks>
    public static IReadOnlyList<PlannedTaking> Follow(
        IEnumerable<PlannedTaking> planned, IEnumerable<DateTimeOffset> grabs, IEnumerable<DateTimeOffset> emptyings, TimeZoneInfo zone)
    {
        List<PlannedTaking> all = [.. planned.OrderBy(one => one.Due).ThenBy(one => one.Number)];
        var happened = grabs.GroupBy(at => LocalCalendar.DateOf(at, zone)).Select(day => (At: day.Min(), IsGrab: true))
            .Concat(emptyings.Select(at => (At: at + TankWater.SampledBefore, IsGrab: false)))
            .OrderBy(one => one.At).ThenByDescending(one => one.IsGrab);
        foreach ((DateTimeOffset at, bool isGrab) in happened)
        {
            DateOnly day = LocalCalendar.DateOf(at, zone);
            bool IsWaiting(PlannedTaking one) => one.EndedAt is null && !(one.DismissedAt <= at) && one.From <= day;
            if (isGrab)
            {
                int met = all.FindIndex(one => IsWaiting(one) && day <= one.Due);
                met = met < 0 ? all.FindIndex(IsWaiting) : met;
                if (met >= 0)
                {
                    all[met] = all[met] with { End = TakingEnd.Taken, EndedAt = at };
                }

                continue;
            }

            for (int i = 0; i < all.Count; i++)
            {
                if (IsWaiting(all[i]) && all[i].IsOver(at, zone))
                {
                    all[i] = all[i] with { End = TakingEnd.Missed, EndedAt = at };
                }
            }
        }

        return [.. all.Select(one => one.EndedAt is null && one.DismissedAt is { } dismissed ? one with { End = TakingEnd.Dismissed, EndedAt = dismissed } : one)];
    }

    /// <summary>The end of its last day.</summary>
    /// <param name="zone">The time zone of the days.</param>
    public DateTimeOffset EndOfDue(TimeZoneInfo zone) => LocalCalendar.StartOf(Due.AddDays(1), zone);

    private bool IsOver(DateTimeOffset at, TimeZoneInfo zone) => EndOfDue(zone) <= at;
}
