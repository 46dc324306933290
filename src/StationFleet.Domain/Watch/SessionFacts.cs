namespace StationFleet.Domain.Watch;

/// <summary>
/// How a station is used: how many uses make a session, and how many sessions come on which weekdays at which hours. Fading
/// sums, so that it follows the year and stays small.
/// </summary>
public sealed record SessionFacts
{
    private const int ClassCount = 4;
    private const double UsesEachAtFirst = 3;
    private const double UsesWeight = 10;
    private const int EmptyDaysLearned = 3;

    /// <summary>Weekday weights before anything is known: Monday to Thursday, Friday, Saturday, Sunday (common practice, no source).</summary>
    private static readonly double[] FirstWeights = [0.6, 1.0, 2.1, 1.9];

    /// <summary>Weight of the hours 0 to 23 before anything is known (common practice, no source).</summary>
    internal static readonly double[] FirstHours =
        [0, 0, 0, 0, 1, 2, 4, 6, 8, 9, 9, 9, 8, 8, 8, 9, 9, 8, 7, 5, 3, 2, 1, 0];

    private static readonly double FadingOf400 = Math.Pow(2, -1.0 / 400);
    private static readonly double FadingOf14 = Math.Pow(2, -1.0 / 14);
    private static readonly double FadingOf56 = Math.Pow(2, -1.0 / 56);

    /// <summary>Uses of sessions that were seen whole, fading.</summary>
    public double Uses { get; set; }

    /// <summary>Sessions that were seen whole, fading.</summary>
    public double WholeSessions { get; set; }

    /// <summary>The local day that is being counted; null before the first session.</summary>
    public DateOnly? Day { get; set; }

    /// <summary>Sessions of that day so far.</summary>
    public double OnDay { get; set; }

    /// <summary>The newest sign of use; null before the first session.</summary>
    public DateTimeOffset? LastAt { get; set; }

    /// <summary>Before this instant a missing use is no sign: a count was lost, or a person found the station in order.</summary>
    public DateTimeOffset? UnknownUntil { get; set; }

    /// <summary>Sessions of whole days, fading with half of the weight on 56 days.</summary>
    public double Sessions { get; set; }

    /// <summary>Whole days, fading likewise.</summary>
    public double Days { get; set; }

    /// <summary>Sessions by weekday class, each day's over its factor: Monday to Thursday, Friday, Saturday, Sunday; fading likewise.</summary>
    public double[] ByClass { get; set; } = new double[ClassCount];

    /// <summary>Days by weekday class, fading likewise.</summary>
    public double[] DaysOfClass { get; set; } = new double[ClassCount];

    /// <summary>Sessions by local hour, fading likewise.</summary>
    public double[] ByHour { get; set; } = new double[24];

    /// <summary>Sum of a day's sessions over its weekday weight, fading with half of the weight on 14 days.</summary>
    public double Level { get; set; }

    /// <summary>The days in it.</summary>
    public double LevelDays { get; set; }

    /// <summary>Sessions of the days before <see cref="Day"/>, fading fast: how the days are at present.</summary>
    public double OfLate { get; set; }

    /// <summary>Sessions that were expected in them.</summary>
    public double ExpectedOfLate { get; set; }

    /// <summary>Mean uses of a session.</summary>
    internal double UsesEach => ((UsesEachAtFirst * UsesWeight) + Uses) / (UsesWeight + WholeSessions);

    /// <summary>Mean sessions a day [1/d].</summary>
    internal double PerDay => (Sessions + 15) / (Days + 3);

    /// <summary>Another one with the same content.</summary>
    internal SessionFacts Copy() => this with
    {
        ByClass = [.. ByClass], DaysOfClass = [.. DaysOfClass], ByHour = [.. ByHour],
    };

    /// <summary>A session that was seen whole had so many uses.</summary>
    internal void TakeUses(double uses)
    {
        Uses = (Uses * FadingOf400) + uses;
        WholeSessions = (WholeSessions * FadingOf400) + 1;
    }

    /// <summary>Sessions were seen.</summary>
    internal void TakeSessions(DateTimeOffset at, int sessions, FactsContext context)
    {
        (DateOnly day, DateTimeOffset dayStart) = context.DayOf(at);
        EndDaysBefore(day, context);
        Day = day;
        OnDay += sessions;
        ByHour[Hour(at, dayStart)] += sessions;
        LastAt = at;
    }

    /// <summary>How many sessions are expected in a stretch of time.</summary>
    internal double Expected(DateTimeOffset from, DateTimeOffset to, FactsContext context)
    {
        double sum = 0;
        double hours = ByHour.Sum() + (FirstHours.Sum() / 4);
        for (DateTimeOffset at = from; at < to;)
        {
            (DateOnly day, DateTimeOffset dayStart) = context.DayOf(at);
            int hour = Hour(at, dayStart);
            DateTimeOffset next = dayStart.AddHours(Math.Floor((at - dayStart).TotalHours) + 1);
            next = next < to ? next : to;
            double ofHour = (ByHour[hour] + (FirstHours[hour] / 4)) / hours;
            sum += OnAverage * Weight(ClassOf(day)) * context.FactorOf(day) * ofHour * (next - at).TotalHours;
            at = next;
        }

        return sum;
    }

    /// <summary>How many whole days have been learned.</summary>
    internal double KnownDays => LevelDays;

    private double OnAverage => LevelDays > 0 ? Level / LevelDays : 0;

    private static int ClassOf(DateOnly day) => day.DayOfWeek switch
    {
        DayOfWeek.Friday => 1,
        DayOfWeek.Saturday => 2,
        DayOfWeek.Sunday => 3,
        _ => 0,
    };

    private static int Hour(DateTimeOffset at, DateTimeOffset dayStart) => Math.Clamp((int)(at - dayStart).TotalHours, 0, 23);

    private void EndDaysBefore(DateOnly day, FactsContext context)
    {
        if (Day is not { } last || day <= last)
        {
            return;
        }

        Learn(last, OnDay, context);

        // Days without any use are learned only now that they are over; not more than a few, since something may have been broken.
        for (DateOnly empty = last.AddDays(1); empty < day && empty < last.AddDays(1 + EmptyDaysLearned); empty = empty.AddDays(1))
        {
            Learn(empty, 0, context);
        }

        OnDay = 0;
    }

    private void Learn(DateOnly day, double sessions, FactsContext context)
    {
        int kind = ClassOf(day);
        double weight = Weight(kind) * context.FactorOf(day);
        if (LevelDays >= 5 && OnAverage > 0)
        {
            OfLate = StationUnused.Memory * (OfLate + sessions);
            ExpectedOfLate = StationUnused.Memory * (ExpectedOfLate + (weight * OnAverage));
        }

        Level = (Level * FadingOf14) + (sessions / weight);
        LevelDays = (LevelDays * FadingOf14) + 1;
        for (int i = 0; i < ClassCount; i++)
        {
            (ByClass[i], DaysOfClass[i]) = (ByClass[i] * FadingOf56, DaysOfClass[i] * FadingOf56);
        }

        for (int hour = 0; hour < ByHour.Length; hour++)
        {
            ByHour[hour] *= FadingOf56;
        }

        ByClass[kind] += sessions / context.FactorOf(day);
        DaysOfClass[kind]++;
        Sessions = (Sessions * FadingOf56) + sessions;
        Days = (Days * FadingOf56) + 1;
    }

    // Shrunk towards the first weights with three days of each class, and scaled so that a week has the mean 1.
    private double Weight(int kind)
    {
        double mean = Days > 0 ? Math.Max(1e-6, ByClass.Sum() / Days) : 1;
        Span<double> weights = stackalloc double[ClassCount];
        double week = 0;
        for (int i = 0; i < ClassCount; i++)
        {
            weights[i] = ((ByClass[i] / mean) + (3 * FirstWeights[i])) / (DaysOfClass[i] + 3);
            week += weights[i] * (i == 0 ? 4 : 1);
        }

        return weights[kind] * 7 / week;
    }
}
