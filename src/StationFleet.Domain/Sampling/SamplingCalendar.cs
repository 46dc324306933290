namespace StationFleet.Domain.Sampling;

/// <summary>A pump-out that is expected, and what its tank may hold.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="Access">Where it stands.</param>
/// <param name="Day">The local day on which the pump-out is expected.</param>
/// <param name="Litres">Water that will have come in [L].</param>
/// <param name="PerLitre">Organisms in a litre, by last season or a guess; 0 or more.</param>
public sealed record ExpectedPumpOut(string Station, string Access, DateOnly Day, double Litres, double PerLitre)
{
    /// <summary>Organisms expected in the tank.</summary>
    public double Organisms => Litres * PerLitre;
}

/// <summary>Why a sample is in the calendar.</summary>
public enum SampleReason
{
    /// <summary>The month needs one, or nothing can be said of it.</summary>
    FirstOfMonth,

    /// <summary>The month needs two, so that it can be expanded by itself.</summary>
    SecondOfMonth,

    /// <summary>The month needs three, so that it can be compared with others.</summary>
    ThirdOfMonth,

    /// <summary>Here one more sample narrows the season's figure most.</summary>
    PaysMost,
}

/// <summary>A sample to be taken, as the calendar has it.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="Access">Where it stands.</param>
/// <param name="Due">The last local day for taking it: the day before the pump-out is expected.</param>
/// <param name="PumpOutExpected">The day of the pump-out.</param>
/// <param name="Reason">Why.</param>
public sealed record PlannedSample(string Station, string Access, DateOnly Due, DateOnly PumpOutExpected, SampleReason Reason);

/// <summary>A month in the calendar.</summary>
/// <param name="Month">1 to 12.</param>
/// <param name="PumpOuts">Pump-outs expected.</param>
/// <param name="Samples">Samples planned.</param>
public sealed record PlannedMonth(int Month, int PumpOuts, int Samples);

/// <summary>When to sample in a season, within what it may cost.</summary>
/// <param name="Samples">In the order of their days.</param>
/// <param name="Months">In the order of the calendar.</param>
/// <param name="RelativeError">Standard error of the season's figure ÷ the figure, expected; null while a month with organisms has fewer than two samples.</param>
/// <param name="Left">What is not spent.</param>
public sealed record SamplingCalendar(IReadOnlyList<PlannedSample> Samples, IReadOnlyList<PlannedMonth> Months, double? RelativeError, double Left)
{
    private const int FewestCompared = 3;

    /// <summary>Chooses which pump-outs to sample.</summary>
    /// <param name="expected">The season's pump-outs, one year.</param>
    /// <param name="budget">What may be spent, in any unit; 0 or more.</param>
    /// <param name="costPerSample">What one tank's sample costs, in the same unit; positive.</param>
    /// <param name="betweenCv">How much tanks of a month differ in concentration: standard deviation ÷ mean, such as 1.</param>
    /// <param name="withinCv">How uncertain one tank's estimate is: standard error ÷ estimate, such as 0.4.</param>
    /// <remarks>
    /// First one sample for each month, the months with most organisms first, then a second one, then a third; every further one goes
    /// where it lowers the variance of the season's figure most. Variance of a month with n of N tanks sampled: N² x̄² (g² (1 − n/N) +
    /// h²)/n, as in optimum allocation (Cochran 1977 ch. 5, from memory). Within a month the samples are spread evenly.
    /// </remarks>
    public static SamplingCalendar Plan(IReadOnlyCollection<ExpectedPumpOut> expected, double budget, double costPerSample, double betweenCv, double withinCv)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(budget);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(costPerSample);
        List<MonthPlan> months =
        [
            .. expected.GroupBy(one => one.Day.Month).OrderBy(month => month.Key).Select(month => new MonthPlan(month, betweenCv, withinCv)),
        ];
        int affordable = (int)Math.Min(expected.Count, Math.Floor((budget / costPerSample) + 1e-9));
        for (int i = 0; i < affordable; i++)
        {
            List<MonthPlan> open = [.. months.Where(month => month.Reasons.Count < month.PumpOuts.Count)];
            List<MonthPlan> thin = [.. open.Where(month => month.Reasons.Count < FewestCompared)];
            int fewest = thin.Count == 0 ? FewestCompared : thin.Min(month => month.Reasons.Count);
            MonthPlan chosen = fewest < FewestCompared
                ? thin.Where(month => month.Reasons.Count == fewest).MaxBy(month => month.Organisms)!
                : open.MaxBy(month => month.Variance(month.Reasons.Count) - month.Variance(month.Reasons.Count + 1))!;
            chosen.Reasons.Add((SampleReason)Math.Min(chosen.Reasons.Count, FewestCompared));
        }

        double all = months.Sum(month => month.Organisms);
        bool isKnown = all > 0 && months.All(month => month.Organisms == 0 || month.Reasons.Count >= Math.Min(2, month.PumpOuts.Count));
        return new SamplingCalendar(
            [.. months.SelectMany(month => month.Samples()).OrderBy(sample => sample.Due).ThenBy(sample => sample.Station, StringComparer.Ordinal)],
            [.. months.Select(month => new PlannedMonth(month.Month, month.PumpOuts.Count, month.Reasons.Count))],
            isKnown ? Math.Sqrt(months.Where(month => month.Organisms > 0).Sum(month => month.Variance(month.Reasons.Count))) / all : null,
            budget - (affordable * costPerSample));
    }

    private sealed class MonthPlan(IGrouping<int, ExpectedPumpOut> month, double betweenCv, double withinCv)
    {
        public int Month => month.Key;

        public List<ExpectedPumpOut> PumpOuts { get; } = [.. month.OrderBy(one => one.Day).ThenBy(one => one.Station, StringComparer.Ordinal)];

        public double Organisms { get; } = month.Sum(one => one.Organisms);

        /// <summary>Why each sample so far was given.</summary>
        public List<SampleReason> Reasons { get; } = [];

        public double Variance(int samples) => samples == 0
            ? double.PositiveInfinity
            : Organisms * Organisms * ((betweenCv * betweenCv * (1 - ((double)samples / PumpOuts.Count))) + (withinCv * withinCv)) / samples;

        public IEnumerable<PlannedSample> Samples() => Reasons.Select((reason, i) =>
        {
            ExpectedPumpOut one = PumpOuts[((2 * i) + 1) * PumpOuts.Count / (2 * Reasons.Count)];
            return new PlannedSample(one.Station, one.Access, one.Day.AddDays(-1), one.Day, reason);
        });
    }
}
