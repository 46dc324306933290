using MathNet.Numerics;

namespace StationFleet.Domain.Tanks;

/// <summary>What a forecast of a tank goes by.</summary>
/// <param name="Past">Past days, oldest first.</param>
/// <param name="Today">Today's local date.</param>
/// <param name="Factors">For today and the days after it, how many times the usual inflow each is known to bring; 0 or more.</param>
/// <param name="HourShares">Share of a day's inflow by local hour, 24 of them; their sum is 1.</param>
/// <param name="HoursGone">Hours of today that are over, 0 to 24.</param>
/// <param name="SoFar">Inflow of today so far, as a share of capacity.</param>
/// <param name="PerUse">What a use brings on average, as a share of capacity: water comes in portions.</param>
public sealed record InflowInput(
    IReadOnlyList<DayInflow> Past,
    DateOnly Today,
    IReadOnlyList<double> Factors,
    IReadOnlyList<double> HourShares,
    double HoursGone,
    double SoFar,
    double PerUse);

/// <summary>What came into a tank on a local day.</summary>
/// <param name="Day">The day.</param>
/// <param name="Share">The inflow, as a share of capacity.</param>
/// <param name="Factor">How many times the usual inflow the day was known to bring.</param>
public readonly record struct DayInflow(DateOnly Day, double Share, double Factor = 1);

/// <summary>When a tank will be full, as probabilities: the inflow only adds up, so it is full by t when the inflow up to t fills its room.</summary>
/// <remarks>
/// The inflow up to t is taken as gamma-distributed with mean M(t) and variance Var(t): M(t) = Σ L w, Var(t) = (1 + (i − 1) min(1, t / 3 d))
/// Σ L² w^1.5 v + 1.2 u M + M² (v i / n + 0.01 t / 3 d). w is a day's weight, by its weekday (Monday to Thursday, Friday, Saturday, Sunday;
/// learned from the inflow, with three days of each class as first known) and by what is known of it; L the mean inflow of a day of
/// weight 1, today so far included, with half of the weight on 10 days, n its effective number of days, v 1.2 times the relative variance of a day's inflow
/// (half of the weight on 28 days; at least 0.1), u what a use brings, i = (1 + ρ) / (1 − ρ) with ρ the correlation of neighbouring days, 0.1 to 0.6; a day of which only
/// a part counts has that part of its mean and of its variance. Today's own pace changes the rest of today, and tomorrow by ρ: it is
/// what came in so far beside what usually has, three uses at the usual pace added to both. That
/// the variance grows with the power 1.5 of the mean lies between that of counts (1) and of a common factor (2). Method and
/// constants of this project; no published source.
/// </remarks>
public sealed class TimeToFull
{
    /// <summary>How far ahead a forecast looks [d].</summary>
    public const int Days = 70;

    /// <summary>A forecast names dates from so many learned days on.</summary>
    public const int DaysForDates = 7;

    /// <summary>So many learned days are needed for any forecast.</summary>
    public const int LeastDays = 2;

    private const double RateHalfLife = 10;
    private const double VarianceHalfLife = 28;
    private const double Widening = 1.2;
    private const double UsesOfScatter = 1.2;
    private const double LevelDrift = 0.010;
    private const double LeastVariance = 0.1;
    private const double LeastWeight = 0.05;
    private const double UsesOfPace = 3;
    private const double LeastPaceDays = 0.05;
    private const double MostPaceDays = 5;
    private const double Taylor = 1.5;

    private readonly double[] _means = new double[Days];
    private readonly double[] _meansBefore = new double[Days];
    private readonly double[] _spreads = new double[Days];
    private readonly double[] _spreadsBefore = new double[Days];
    private readonly double[] _hoursBefore = new double[25];
    private readonly double _hoursGone;
    private readonly double _perUse;
    private readonly double _variance;
    private readonly double _inflation;
    private readonly double _count;

    private TimeToFull(InflowInput input)
    {
        for (int hour = 0; hour < 24; hour++)
        {
            _hoursBefore[hour + 1] = _hoursBefore[hour] + input.HourShares[hour];
        }

        _hoursGone = Math.Clamp(input.HoursGone, 0, 24);
        _perUse = Math.Max(0, input.PerUse);
        double[] classes = WeekdayWeights.Of(input.Past);
        double[] past = [.. input.Past.Select(day => Math.Max(LeastWeight, classes[WeekdayWeights.ClassOf(day.Day)] * day.Factor))];
        double soFar = Math.Max(0, input.SoFar);
        double ofToday = classes[WeekdayWeights.ClassOf(input.Today)] * input.Factors[0];
        double fading = Math.Pow(2, -1 / RateHalfLife);
        double cameIn = (fading * Faded(input.Past.Count, RateHalfLife, i => input.Past[i].Share)) + soFar;
        Rate = cameIn / ((fading * Faded(input.Past.Count, RateHalfLife, i => past[i])) + (ofToday * PartOfDay(_hoursGone)));
        (_variance, double correlation) = Spread(input.Past, past);
        _inflation = (1 + correlation) / (1 - correlation);
        _count = EffectiveDays(input.Past.Count);

        // A day that began busier than usual goes on so, and the next one a little.
        double today = Rate * ofToday;
        double usual = Math.Clamp(UsesOfPace * _perUse, LeastPaceDays * today, MostPaceDays * today);
        double pace = today > 0 ? (soFar + usual) / ((today * PartOfDay(_hoursGone)) + usual) : 1;
        for (int day = 0; day < Days; day++)
        {
            double scale = day switch { 0 => pace, 1 => 1 + (correlation * (pace - 1)), _ => 1 };
            double weight = classes[WeekdayWeights.ClassOf(input.Today.AddDays(day))] * input.Factors[day] * scale;
            _means[day] = Rate * weight;
            _spreads[day] = Rate * Rate * Math.Pow(weight, Taylor);
            double ofDay = day == 0 ? 1 - PartOfDay(_hoursGone) : 1;
            if (day + 1 < Days)
            {
                _meansBefore[day + 1] = _meansBefore[day] + (_means[day] * ofDay);
                _spreadsBefore[day + 1] = _spreadsBefore[day] + (_spreads[day] * ofDay);
            }
        }
    }

    /// <summary>Mean inflow of a day of weight 1, as a share of capacity.</summary>
    public double Rate { get; }

    /// <summary>Prepares a forecast; null while too few days are known.</summary>
    /// <param name="input">What it goes by.</param>
    /// <exception cref="ArgumentException">There are not <see cref="Days"/> weights or 24 hours.</exception>
    public static TimeToFull? Of(InflowInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        if (input.Factors.Count < Days || input.HourShares.Count != 24)
        {
            throw new ArgumentException($"A forecast needs {Days} days and 24 hours.", nameof(input));
        }

        return input.Past.Count < LeastDays ? null : new TimeToFull(input);
    }

    /// <summary>Probability that a gamma-distributed inflow reaches a room.</summary>
    /// <param name="mean">The inflow's mean; positive.</param>
    /// <param name="variance">The inflow's variance; positive.</param>
    /// <param name="room">The room; positive.</param>
    /// <returns>Q(mean² / variance, room · mean / variance), Q the regularised upper incomplete gamma function.</returns>
    public static double ChanceToReach(double mean, double variance, double room) =>
        SpecialFunctions.GammaUpperRegularized(mean * mean / variance, room * mean / variance);

    /// <summary>Probability that the tank is full by a time.</summary>
    /// <param name="room">What it still takes, as a share of capacity; 0 or less is full.</param>
    /// <param name="hours">The time, in local hours from the beginning of today; later than now.</param>
    public double ChanceBy(double room, double hours)
    {
        if (room <= 0)
        {
            return 1;
        }

        int day = Math.Min(Days - 1, (int)(hours / 24));
        double from = day == 0 ? PartOfDay(_hoursGone) : 0;
        double part = Math.Max(0, PartOfDay(Math.Min(24, hours - (24 * day))) - from);
        double mean = _meansBefore[day] + (_means[day] * part);
        if (mean <= 0)
        {
            return 0;
        }

        double spread = _spreadsBefore[day] + (_spreads[day] * part);
        double thirds = Math.Max(0, (hours - _hoursGone) / 72);
        double variance = ((1 + ((_inflation - 1) * Math.Min(1, thirds))) * spread * _variance)
            + (UsesOfScatter * _perUse * mean)
            + (mean * mean * ((_variance * _inflation / _count) + (LevelDrift * thirds)));
        return ChanceToReach(mean, variance, room);
    }

    /// <summary>When the chance that the tank is full reaches a value.</summary>
    /// <param name="room">What it still takes, as a share of capacity.</param>
    /// <param name="chance">The chance, between 0 and 1.</param>
    /// <returns>Whole local hours from the beginning of today; null when not within <see cref="Days"/> days.</returns>
    public int? HoursTo(double room, double chance)
    {
        int low = (int)Math.Ceiling(_hoursGone);
        int high = Days * 24;
        if (ChanceBy(room, high) < chance)
        {
            return null;
        }

        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = ChanceBy(room, middle) >= chance ? (low, middle) : (middle + 1, high);
        }

        return low;
    }

    /// <summary>
    /// When half of the chance is over that the shortest stretch of time with half of all chance holds: near the single time that is nearest
    /// to what comes in the median. Where waiting is skewed, as at a quiet ramp, that is earlier than the time that is as likely before as after.
    /// </summary>
    /// <param name="room">What it still takes, as a share of capacity.</param>
    /// <returns>Whole local hours from the beginning of today; null when half of the chance lies beyond <see cref="Days"/> days.</returns>
    /// <remarks>
    /// After the least median of absolute deviations, the midpoint of the shortest half (P. J. Rousseeuw, J. Am. Stat. Assoc. 79 (1984)
    /// 871–880; cited from memory), begun at each tenth of the chance. Its middle is taken by chance, since that by the clock may lie at night.
    /// </remarks>
    public int? LikeliestHours(double room)
    {
        (int Length, double Chance) shortest = (int.MaxValue, 0);
        for (int tenth = 0; tenth < 5; tenth++)
        {
            int? begin = tenth == 0 ? (int)Math.Ceiling(_hoursGone) : HoursTo(room, tenth / 10.0);
            if (HoursTo(room, (tenth + 5) / 10.0) - begin is { } length && length < shortest.Length)
            {
                shortest = (length, (tenth + 2.5) / 10);
            }
        }

        return shortest.Chance > 0 ? HoursTo(room, shortest.Chance) : null;
    }

    private double PartOfDay(double hour)
    {
        int whole = Math.Min(23, (int)hour);
        return _hoursBefore[whole] + ((_hoursBefore[whole + 1] - _hoursBefore[whole]) * (hour - whole));
    }

    private (double Variance, double Correlation) Spread(IReadOnlyList<DayInflow> past, double[] weights)
    {
        if (Rate <= 0)
        {
            return (LeastVariance, 0.1);
        }

        double variance = Faded(past.Count, VarianceHalfLife, i => Square(past[i].Share - (Rate * weights[i])))
            / Faded(past.Count, VarianceHalfLife, i => Square(Rate) * Math.Pow(weights[i], Taylor));
        double[] rates = [.. past.Select((day, i) => day.Share / weights[i])];
        double mean = rates.Average();
        (double own, double neighbours) = (0, 0);
        for (int i = 0; i < rates.Length; i++)
        {
            own += Square(rates[i] - mean);
            neighbours += i == 0 ? 0 : (rates[i] - mean) * (rates[i - 1] - mean);
        }

        return (Math.Max(LeastVariance, Widening * variance), Math.Clamp(own > 0 ? neighbours / own : 0, 0.1, 0.6));
    }

    private static double Faded(int count, double halfLife, Func<int, double> value)
    {
        double fading = Math.Pow(2, -1 / halfLife);
        double sum = 0;
        for (int i = 0; i < count; i++)
        {
            sum = (sum * fading) + value(i);
        }

        return sum;
    }

    private static double EffectiveDays(int days)
    {
        double fading = Math.Pow(2, -1 / RateHalfLife);
        double sum = (1 - Math.Pow(fading, days)) / (1 - fading);
        double squares = (1 - Math.Pow(fading, 2 * days)) / (1 - (fading * fading));
        return sum * sum / squares;
    }

    private static double Square(double value) => value * value;
}
