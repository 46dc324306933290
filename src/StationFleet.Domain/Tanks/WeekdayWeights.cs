namespace StationFleet.Domain.Tanks;

/// <summary>How many times a mean day's inflow a weekday brings.</summary>
internal static class WeekdayWeights
{
    private const int Classes = 4;
    private const double FirstDays = 3;

    /// <summary>Before anything is known: Monday to Thursday, Friday, Saturday, Sunday (common practice, no source).</summary>
    private static readonly double[] First = [0.6, 1.0, 2.1, 1.9];

    /// <summary>The class of a day: Monday to Thursday 0, Friday 1, Saturday 2, Sunday 3.</summary>
    public static int ClassOf(DateOnly day) => day.DayOfWeek switch
    {
        DayOfWeek.Friday => 1,
        DayOfWeek.Saturday => 2,
        DayOfWeek.Sunday => 3,
        _ => 0,
    };

    /// <summary>The weights by class: shrunk towards the first ones with three days of each class, and scaled so that a week has the mean 1.</summary>
    public static double[] Of(IReadOnlyList<DayInflow> past)
    {
        double[] sums = new double[Classes];
        double[] days = new double[Classes];
        double firsts = 0;
        foreach (DayInflow day in past)
        {
            double factor = Math.Max(0.05, day.Factor);
            sums[ClassOf(day.Day)] += day.Share / factor;
            days[ClassOf(day.Day)]++;
            firsts += First[ClassOf(day.Day)];
        }

        // The level of the first weights is that of the same weekdays.
        double scale = firsts > 0 ? sums.Sum() / firsts : 0;
        double[] weights = scale > 0
            ? [.. First.Select((first, kind) => ((sums[kind] / scale) + (FirstDays * first)) / (days[kind] + FirstDays))]
            : [.. First];
        double week = (4 * weights[0]) + weights[1] + weights[2] + weights[3];
        return [.. weights.Select(weight => weight * 7 / week)];
    }
}
