using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Counts;

/// <summary>Identifies one count shift.</summary>
/// <param name="Value">The number given by the database.</param>
public readonly record struct CountShiftId(int Value);

/// <summary>What a person counted who stood at a ramp.</summary>
/// <param name="Station">The station that stood there.</param>
/// <param name="From">When the counting began.</param>
/// <param name="To">When it ended; after it began.</param>
/// <param name="BoatsLeaving">Boats that left the water.</param>
/// <param name="BoatsAtStation">Of these, the ones whose people used the station.</param>
/// <param name="ToolUses">How often a tool was used; null when nobody watched the tools.</param>
public sealed record CountShift(StationId Station, DateTimeOffset From, DateTimeOffset To, int BoatsLeaving, int BoatsAtStation, int? ToolUses)
{
    /// <summary>How long it took [h].</summary>
    public double Hours => (To - From).TotalHours;

    /// <summary>What kind of hours it stands for: by its middle.</summary>
    /// <param name="zone">The access's time zone.</param>
    public CountHours Kind(TimeZoneInfo zone) => CountHours.At(From + ((To - From) / 2), zone);
}

/// <summary>Hours of a season that are alike for counting.</summary>
/// <param name="IsWeekend">Saturday or Sunday; a holiday on another day is not.</param>
/// <param name="IsAfternoon">From noon on.</param>
public readonly record struct CountHours(bool IsWeekend, bool IsAfternoon)
{
    /// <summary>From this local hour on boats are counted.</summary>
    public const int FirstHour = 6;

    /// <summary>The local hour at which the afternoon begins.</summary>
    public const int Noon = 12;

    /// <summary>From this local hour on boats are not counted.</summary>
    public const int LastHour = 21;

    /// <summary>All kinds.</summary>
    public static IReadOnlyList<CountHours> All { get; } = [new(false, false), new(false, true), new(true, false), new(true, true)];

    /// <summary>Such as «weekend mornings».</summary>
    public string Words => $"{(IsWeekend ? "weekend" : "weekday")} {(IsAfternoon ? "afternoons" : "mornings")}";

    /// <summary>The kind of hours that an instant lies in.</summary>
    /// <param name="at">The instant.</param>
    /// <param name="zone">The access's time zone.</param>
    public static CountHours At(DateTimeOffset at, TimeZoneInfo zone)
    {
        DateTime local = TimeZoneInfo.ConvertTime(at, zone).DateTime;
        return new CountHours(IsOnWeekend(DateOnly.FromDateTime(local)), local.Hour >= Noon);
    }

    /// <summary>How many hours of this kind lie in required time [h].</summary>
    /// <param name="window">The season.</param>
    /// <param name="required">Required time in it.</param>
    /// <param name="zone">The access's time zone.</param>
    public double In(UtcInterval window, IReadOnlyList<UtcInterval> required, TimeZoneInfo zone)
    {
        ArgumentNullException.ThrowIfNull(window);
        double hours = 0;
        for (DateOnly day = LocalCalendar.DateOf(window.Start, zone); LocalCalendar.StartOf(day, zone) < window.End; day = day.AddDays(1))
        {
            if (IsOnWeekend(day) == IsWeekend)
            {
                UtcInterval part = new(Clock(day, IsAfternoon ? Noon : FirstHour, zone), Clock(day, IsAfternoon ? LastHour : Noon, zone));
                hours += Intervals.SharedLength(part, required).TotalHours;
            }
        }

        return hours;
    }

    private static bool IsOnWeekend(DateOnly day) => day.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday;

    // Clocks change at night, so these hours exist on each day.
    private static DateTimeOffset Clock(DateOnly day, int hour, TimeZoneInfo zone) =>
        LocalCalendar.InstantAt(day.ToDateTime(new TimeOnly(hour, 0)), zone) ?? LocalCalendar.StartOf(day, zone).AddHours(hour);
}
