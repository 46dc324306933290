using StationFleet.Domain.Telemetry;

namespace StationFleet.Testing;

/// <summary>
/// An invented day and a half of a tool, in which every use is known: what a controller's running total said of it, and what may be
/// concluded from that. The conclusions are counted out of the uses, not computed from the readings. July in Boise, six hours behind UTC.
/// </summary>
public sealed class CounterTruth
{
    /// <summary>Local midnight.</summary>
    public static readonly DateTimeOffset Start = new(2026, 7, 8, 6, 0, 0, TimeSpan.Zero);

    private const int Hours = 36;

    private readonly DateTimeOffset[] _uses;

    /// <summary>Makes one from a number; the same number makes the same.</summary>
    public CounterTruth(int seed)
    {
        Random dice = new(seed);
        _uses = [.. Instants(dice, dice.Next(0, 400)).Order()];
        Width = dice.Next(2) == 0 ? null : dice.Next(16, 300);
        Restart = dice.Next(2) == 0 ? null : Instants(dice, 1)[0];
        TellsUptime = dice.Next(2) == 0;
        CountBefore = dice.Next(0, 1000);
        Readings = [.. Instants(dice, dice.Next(2, 120)).Distinct().Order().Select(at => new Reading(at, Shown(at)))];
        Uptimes = TellsUptime ? [.. Readings.Select(reading => new Reading(reading.At, UptimeAt(reading.At)))] : [];
    }

    /// <summary>One hour's figures, as <see cref="RollUpFigures"/> has them.</summary>
    public sealed record Hour(double Known, double AcrossHours, double AcrossDays, int Uncertain);

    /// <summary>The number at which the total goes back to nought, if any.</summary>
    public double? Width { get; }

    /// <summary>When the controller started again, if it did.</summary>
    public DateTimeOffset? Restart { get; }

    public bool TellsUptime { get; }

    /// <summary>What the total would have stood at in the beginning, had it no width.</summary>
    public int CountBefore { get; }

    public IReadOnlyList<Reading> Readings { get; }

    public IReadOnlyList<Reading> Uptimes { get; }

    /// <summary>
    /// Whether nothing in the data shows the restart, or everything in them looks like a wrap: then no reader of the data can know.
    /// </summary>
    public bool IsHidden => Intervals().Any(interval => HoldsRestart(interval) && !TellsUptime
        && (interval.To.Value >= interval.From.Value || LooksLikeWrap(interval)));

    /// <summary>What each hour gained, by its start.</summary>
    public Dictionary<DateTimeOffset, Hour> HoursExpected()
    {
        Dictionary<DateTimeOffset, Hour> hours = Readings.Select(reading => HourOf(reading.At)).Distinct()
            .ToDictionary(start => start, _ => new Hour(0, 0, 0, 0));
        foreach ((Reading from, Reading to) in Intervals())
        {
            (double amount, bool isUncertain) = Gain((from, to));
            DateTimeOffset start = HourOf(to.At);
            Hour hour = hours[start];
            hour = from.At >= start ? hour with { Known = hour.Known + amount }
                : LocalDay(from.At) == LocalDay(to.At.AddTicks(-1)) ? hour with { AcrossHours = hour.AcrossHours + amount }
                : hour with { AcrossDays = hour.AcrossDays + amount };
            hours[start] = hour with { Uncertain = hour.Uncertain + (isUncertain ? 1 : 0) };
        }

        return hours;
    }

    /// <summary>The true uses from the first reading to the last.</summary>
    public int UsesInAll => UsesBetween(Readings[0].At, Readings[^1].At);

    private (double Amount, bool IsUncertain) Gain((Reading From, Reading To) interval)
    {
        (Reading from, Reading to) = interval;
        int uses = UsesBetween(from.At, to.At);
        if (HoldsRestart(interval))
        {
            // What was counted before the restart is lost.
            int since = UsesBetween(Restart!.Value, to.At);
            return (Width is { } width ? since % width : since, true);
        }

        bool fell = to.Value < from.Value;
        return fell && !LooksLikeWrap(interval) ? (to.Value, true) : (uses, false);
    }

    private IEnumerable<(Reading From, Reading To)> Intervals() => Readings.Zip(Readings.Skip(1));

    /// <summary>Whether each interval's uses fit into the counter once, so that a whole round cannot have passed unseen.</summary>
    public bool IsReadOftenEnough => Width is not { } width
        || Intervals().All(interval => UsesBetween(interval.From.At, interval.To.At) < width);

    private bool HoldsRestart((Reading From, Reading To) interval) => interval.From.At < Restart && Restart <= interval.To.At;

    private bool LooksLikeWrap((Reading From, Reading To) interval) =>
        Width is { } width && interval.From.Value > 0.9 * width && interval.To.Value < 0.1 * width;

    private double Shown(DateTimeOffset at)
    {
        double count = Restart <= at ? UsesBetween(Restart.Value, at) : CountBefore + UsesBetween(DateTimeOffset.MinValue, at);
        return Width is { } width ? count % width : count;
    }

    private double UptimeAt(DateTimeOffset at) => (at - (Restart <= at ? Restart.Value : Start.AddDays(-3))).TotalSeconds;

    private int UsesBetween(DateTimeOffset after, DateTimeOffset to) => _uses.Count(use => after < use && use <= to);

    // The hour (start, start + 1 h]; Boise's hours are UTC's.
    private static DateTimeOffset HourOf(DateTimeOffset at)
    {
        long ticks = at.UtcTicks - 1;
        return new DateTimeOffset(ticks - (ticks % TimeSpan.TicksPerHour), TimeSpan.Zero);
    }

    private static DateTime LocalDay(DateTimeOffset at) => at.ToOffset(TimeSpan.FromHours(-6)).Date;

    private static DateTimeOffset[] Instants(Random dice, int count) =>
        [.. Enumerable.Range(0, count).Select(_ => Start.AddSeconds(dice.Next(1, Hours * 3600)))];
}
