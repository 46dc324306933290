using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>A tank period as a replicate of its month.</summary>
internal sealed record MonthPeriod(int Month, CollectedWater? Water, CountedGrabs? Grabs);

/// <summary>Compares months by a quasi-Poisson model with one rate for each.</summary>
/// <remarks>
/// Count ~ mean w exp(b), the examined litres w as offset; the rate of a month is Σx/Σw, in closed form. φ = max(1, χ²/(n − p));
/// SE of the log ratio √(φ(1/x₁ + 1/x₂)), t with n − p degrees of freedom, Holm over the comparisons with the highest month. A month
/// without a find counts as half a find there. For the load the volumes' own variances are added. Source of the model: P. McCullagh and
/// J. A. Nelder, Generalized Linear Models, ch. 6 (from memory).
/// </remarks>
internal static class MonthComparison
{
    private const double Power = 0.8;
    private const double Wrong = 0.05;
    private const double AsGoodAsAlike = 1.2;

    public static MonthRanking Of(Organism organism, MonthMeasure measure, IReadOnlyList<MonthPeriod> periods)
    {
        Tally[] months = [.. periods.GroupBy(period => period.Month).OrderBy(month => month.Key).Select(month => Tally.Of(month.Key, [.. month], measure))];
        Tally[] sampled = [.. months.Where(month => month.Periods > 0)];
        int freedom = sampled.Sum(month => month.Periods - 1);
        double chiSquare = sampled.Sum(month => month.ChiSquare);
        double scatter = freedom > 0 ? Math.Max(1, chiSquare / freedom) : 1;
        double t = Quantiles.StudentT(0.975, Math.Max(1, freedom));
        Tally[] judged = [.. sampled.Where(month => month.Periods >= MonthRanking.FewestPeriods)];
        Tally? highest = sampled.Length == 0 || sampled.All(month => month.Count == 0) ? null : sampled.MaxBy(month => month.Value);
        bool isCompared = highest is not null && judged.Contains(highest) && judged.Length > 1 && freedom >= MonthRanking.FewestFreedom;
        Tally[] others = isCompared ? [.. judged.Where(month => month != highest)] : [];
        double[] chances = Holm.Adjust([.. others.Select(month => Quantiles.StudentTail(LogRatio(highest!, month) / Error(highest!, month, scatter), freedom))]);
        List<MonthResult> results = [];
        foreach (Tally month in months)
        {
            int other = Array.IndexOf(others, month);
            double? chance = other < 0 ? null : chances[other];
            results.Add(new MonthResult(
                month.Month,
                month.Periods,
                month.Count,
                month.ExaminedLitres,
                month.CollectedLitres,
                month.Periods == 0 ? null : month.ValueWithin(t, scatter),
                other < 0 ? null : Ratio(highest!, month, t * Error(highest!, month, scatter)),
                chance,
                !(chance < Wrong)));
        }

        MonthRanking ranking = new(organism, measure, results, highest?.Month, isCompared, scatter, chiSquare, freedom, null);
        return ranking with { Advice = isCompared ? AdviceOn(highest!, [.. others.Where((_, i) => chances[i] >= Wrong)], others.Length, scatter) : null };
    }

    /// <summary>How many organisms must be counted in the lower month to tell a ratio from 1.</summary>
    /// <param name="ratio">Above 1.</param>
    /// <param name="comparisons">How many comparisons are made at once.</param>
    /// <param name="scatter">φ.</param>
    public static double CountNeeded(double ratio, int comparisons, double scatter)
    {
        double z = Quantiles.Normal(1 - (Wrong / (2 * comparisons))) + Quantiles.Normal(Power);
        return scatter * z * z * (1 + (1 / ratio)) / (Math.Log(ratio) * Math.Log(ratio));
    }

    private static MoreSampling? AdviceOn(Tally highest, Tally[] rivals, int comparisons, double scatter)
    {
        Tally? hardest = rivals.Where(month => month.Count > 0 && highest.Value / month.Value > AsGoodAsAlike).MinBy(month => highest.Value / month.Value);
        if (hardest is null)
        {
            return null;
        }

        double ratio = highest.Value / hardest.Value;
        double needed = CountNeeded(ratio, comparisons, scatter);
        return new MoreSampling(hardest.Month, ratio, needed, (int)Math.Ceiling(needed / ((double)hardest.Count / hardest.Periods)));
    }

    private static double LogRatio(Tally highest, Tally other) => Math.Log(highest.HalfAtLeast / other.HalfAtLeast);

    private static double Error(Tally highest, Tally other, double scatter) =>
        Math.Sqrt((scatter * ((1 / highest.CountOrHalf) + (1 / other.CountOrHalf))) + highest.LitresVariance + other.LitresVariance);

    private static Bounded Ratio(Tally highest, Tally other, double half)
    {
        double log = LogRatio(highest, other);
        return new Bounded(other.Count == 0 ? double.PositiveInfinity : Math.Exp(log), Math.Exp(log - half), other.Count == 0 ? double.PositiveInfinity : Math.Exp(log + half));
    }

    // A month's sums. Scale is 1 for the concentration and the month's litres for the load; LitresVariance is that of their logarithm.
    private sealed record Tally(
        int Month, int Periods, int Count, double ExaminedLitres, double CollectedLitres, double Scale, double LitresVariance, double ChiSquare)
    {
        public double Value => Count / ExaminedLitres * Scale;

        public double CountOrHalf => Math.Max(Count, 0.5);

        public double HalfAtLeast => CountOrHalf / ExaminedLitres * Scale;

        public static Tally Of(int month, MonthPeriod[] periods, MonthMeasure measure)
        {
            CountedGrabs[] sampled = [.. periods.Where(period => period.Grabs is not null).Select(period => period.Grabs!)];
            CollectedWater[] waters = [.. periods.Where(period => period.Water is not null).Select(period => period.Water!)];
            double litres = waters.Sum(water => water.Litres);
            double examined = sampled.Sum(grabs => grabs.ExaminedLitres);
            int count = sampled.Sum(grabs => grabs.Count);
            bool isLoad = measure == MonthMeasure.Load;
            return new Tally(
                month,
                isLoad && litres == 0 ? 0 : sampled.Length,
                count,
                examined,
                litres,
                isLoad ? litres : 1,
                isLoad && litres > 0 ? waters.Sum(water => water.SdLitres * water.SdLitres) / (litres * litres) : 0,
                count == 0 ? 0 : sampled.Sum(grabs => Math.Pow(grabs.Count - (count / examined * grabs.ExaminedLitres), 2) / (count / examined * grabs.ExaminedLitres)));
        }

        public Bounded ValueWithin(double t, double scatter)
        {
            if (Count == 0)
            {
                return new Bounded(0, 0, scatter * Bounds.Rate(0, 1).High / ExaminedLitres * Scale);
            }

            double half = t * Math.Sqrt((scatter / Count) + LitresVariance);
            return new Bounded(Value, Value * Math.Exp(-half), Value * Math.Exp(half));
        }
    }
}
