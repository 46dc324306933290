using System.Globalization;

namespace StationFleet.Domain.Service.Duty;

/// <summary>Days of the week; stored, so the numbers must not change.</summary>
[Flags]
public enum Weekdays
{
    /// <summary>No day.</summary>
    None = 0,

    /// <summary>Monday.</summary>
    Monday = 1,

    /// <summary>Tuesday.</summary>
    Tuesday = 2,

    /// <summary>Wednesday.</summary>
    Wednesday = 4,

    /// <summary>Thursday.</summary>
    Thursday = 8,

    /// <summary>Friday.</summary>
    Friday = 16,

    /// <summary>Saturday.</summary>
    Saturday = 32,

    /// <summary>Sunday.</summary>
    Sunday = 64,

    /// <summary>Monday to Friday.</summary>
    WorkingWeek = Monday | Tuesday | Wednesday | Thursday | Friday,

    /// <summary>Every day.</summary>
    All = WorkingWeek | Saturday | Sunday,
}

/// <summary>Questions about sets of weekdays.</summary>
public static class WeekdaySets
{
    private static readonly DayOfWeek[] InOrder =
    [
        DayOfWeek.Monday, DayOfWeek.Tuesday, DayOfWeek.Wednesday, DayOfWeek.Thursday, DayOfWeek.Friday, DayOfWeek.Saturday, DayOfWeek.Sunday,
    ];

    /// <summary>The set that holds one day.</summary>
    /// <param name="day">The day.</param>
    public static Weekdays Of(DayOfWeek day) => (Weekdays)(1 << Array.IndexOf(InOrder, day));

    /// <summary>Whether a set holds a day.</summary>
    /// <param name="days">The set.</param>
    /// <param name="day">The day.</param>
    public static bool Has(this Weekdays days, DayOfWeek day) => (days & Of(day)) != 0;

    /// <summary>A set in words: «every day», «Mon to Fri», «Sat, Sun».</summary>
    /// <param name="days">The set.</param>
    public static string Say(Weekdays days)
    {
        if (days == Weekdays.All)
        {
            return "every day";
        }

        List<(int First, int Last)> runs = [];
        for (int i = 0; i < InOrder.Length; i++)
        {
            if (!days.Has(InOrder[i]))
            {
                continue;
            }

            if (runs.Count > 0 && runs[^1].Last == i - 1)
            {
                runs[^1] = (runs[^1].First, i);
            }
            else
            {
                runs.Add((i, i));
            }
        }

        return string.Join(", ", runs.Select(run => (run.Last - run.First) switch
        {
            0 => Short(run.First),
            1 => $"{Short(run.First)}, {Short(run.Last)}",
            _ => $"{Short(run.First)} to {Short(run.Last)}",
        }));
    }

    private static string Short(int index) => CultureInfo.InvariantCulture.DateTimeFormat.GetAbbreviatedDayName(InOrder[index]);
}
