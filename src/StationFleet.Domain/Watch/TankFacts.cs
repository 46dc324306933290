using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>An emptying that the fill shows, by a fall that the next readings confirm.</summary>
/// <param name="At">The first reading after the fall: the emptying lies between the reading before and this one.</param>
/// <param name="Before">The fill before it.</param>
/// <param name="After">The fill when the fall had ended.</param>
public sealed record PumpOutSeen(DateTimeOffset At, TankSample Before, TankSample After)
{
    /// <summary>What the sensor said, for making litres of it.</summary>
    public EmptyingReadings Readings => new(Before.Reading, After.Reading);
}

/// <summary>A fall of the fill that may be a pump-out or false readings.</summary>
/// <param name="Before">The fill before it.</param>
/// <param name="FirstAt">The first reading that fell.</param>
/// <param name="Low">The readings since it ended, all of them low.</param>
/// <param name="Back">Readings since that were not low.</param>
public sealed record TankFall(TankSample Before, DateTimeOffset FirstAt, IReadOnlyList<TankSample> Low, int Back)
{
    /// <summary>Whether the low readings prove it: five, or three over half an hour.</summary>
    public bool IsProved => Low.Count >= 5 || (Low.Count >= 3 && Low[^1].Reading.At - Low[0].Reading.At >= TimeSpan.FromMinutes(30));
}

/// <summary>Uses of tools that fill the tank.</summary>
/// <param name="At">The reading that told of them.</param>
/// <param name="Uses">How many.</param>
public readonly record struct FillingUses(DateTimeOffset At, double Uses);

/// <summary>What is known of a waste tank's fill, in shares of its capacity.</summary>
/// <remarks>
/// The level is the one of the newest readings that is believed (<see cref="LevelWindow"/>). A fall of at least a tenth under it is a pump-out
/// when five readings, or three over half an hour, lie there and not two others between them. The rise of each whole day is learned,
/// divided by how busy such a day usually is.
/// </remarks>
public sealed record TankFacts
{
    /// <summary>The least fall that counts as a pump-out, as a share of capacity.</summary>
    public const double LeastFall = 0.10;

    private const double StillFalling = 0.02;
    private const int MostBack = 2;
    private const int DaysKept = 56;
    private const double FirstUses = 20;
    private static readonly double FadingOf28 = Math.Pow(2, -1.0 / 28);
    private const double RunsOver = 0.98;
    private const double Unknown = -1;

    /// <summary>The newest reading, as a share of capacity.</summary>
    public Reading? Last { get; set; }

    /// <summary>The newest readings.</summary>
    public LevelWindow Window { get; set; } = LevelWindow.Empty;

    /// <summary>The level that they say; null before the first.</summary>
    public TankSample? Level { get; set; }

    /// <summary>Uses that came after the oldest of the newest readings, oldest first.</summary>
    public IReadOnlyList<FillingUses> NewUses { get; set; } = [];

    /// <summary>A fall that waits for more readings.</summary>
    public TankFall? Fall { get; set; }

    /// <summary>The newest air temperature [°C], for sensors that time an echo.</summary>
    public Reading? Air { get; set; }

    /// <summary>The reading that confirmed the last pump-out.</summary>
    public DateTimeOffset? PumpOutConfirmedAt { get; set; }

    /// <summary>The local day that is being added up; null before the first reading.</summary>
    public DateOnly? Day { get; set; }

    /// <summary>Whether the day is known from its beginning, by a sensor that was in order.</summary>
    public bool IsWholeDay { get; set; }

    /// <summary>The level at the start of that day.</summary>
    public double DayStart { get; set; }

    /// <summary>What pump-outs took away on that day.</summary>
    public double DayPumped { get; set; }

    /// <summary>Whether the tank was full on that day: what ran over was not seen.</summary>
    public bool DayRanFull { get; set; }

    /// <summary>What came in on each of the last days before <see cref="Day"/>, oldest first, as shares of capacity; 56 at most, -1 where it is not known.</summary>
    public IReadOnlyList<double> DailyRises { get; set; } = [];

    /// <summary>Uses of the tools that fill the tank by local hour, fading with half of the weight on 28 days.</summary>
    public IReadOnlyList<double> UsesByHour { get; set; } = new double[24];

    /// <summary>How the sensor behaves.</summary>
    public TankSensorFacts Sensor { get; set; } = new();

    /// <summary>What came in today so far, as a share of capacity.</summary>
    public double SoFar => Math.Max(0, (Level?.Share ?? 0) - DayStart + DayPumped);

    /// <summary>
    /// What the level has not shown yet: each of the newest readings is raised by what the uses since then should have added, before
    /// one of them is believed; as a share of capacity.
    /// </summary>
    /// <param name="capacityLitres">The tank's capacity [L].</param>
    internal double NotShownYet(double capacityLitres)
    {
        if (Level is not { } level || NewUses.Count == 0 || Sensor.IsInDoubt)
        {
            return 0;
        }

        double each = Sensor.KnownLitresPerUse(capacityLitres) / capacityLitres;
        LevelWindow raised = new([.. Window.Samples.Select(sample => sample with { Share = sample.Share + (each * NewUses.Where(uses => uses.At > sample.Reading.At).Sum(uses => uses.Uses)) })]);
        return Math.Max(0, (raised.Believed()?.Share ?? level.Share) - level.Share);
    }

    /// <summary>Mean inflow of the last seven known days, as a share of capacity a day; null before two of them are known.</summary>
    public double? MeanDailyRise()
    {
        double[] known = [.. DailyRises.Where(rise => rise >= 0)];
        return known.Length >= TimeToFull.LeastDays ? known.TakeLast(7).Average() : null;
    }

    /// <summary>The days whose inflow is known, oldest first.</summary>
    internal IReadOnlyList<DayInflow> KnownDays(FactsContext context)
    {
        List<DayInflow> days = [];
        for (int i = 0; Day is { } today && i < DailyRises.Count; i++)
        {
            DateOnly day = today.AddDays(i - DailyRises.Count);
            if (DailyRises[i] >= 0)
            {
                days.Add(new DayInflow(day, DailyRises[i], context.FactorOf(day)));
            }
        }

        return days;
    }

    /// <summary>Share of a day's inflow by local hour: by the uses that bring it, with a few as they usually come.</summary>
    internal double[] HourShares()
    {
        double uses = UsesByHour.Sum() + FirstUses;
        return [.. UsesByHour.Zip(SessionFacts.FirstHours, (seen, first) => (seen + (FirstUses * first / SessionFacts.FirstHours.Sum())) / uses)];
    }

    /// <summary>Tools that fill the tank were used.</summary>
    internal void TakeUses(double uses, DateTimeOffset at, FactsContext context)
    {
        int hour = Math.Clamp((int)(at - context.DayOf(at).Start).TotalHours, 0, 23);
        UsesByHour = [.. UsesByHour.Select((before, i) => i == hour ? before + uses : before)];
        Sensor = Sensor.WithUses(uses, at);
        NewUses = at - Last?.At <= LevelWindow.Length ? [.. NewUses, new FillingUses(at, uses)] : NewUses;
    }

    /// <summary>Takes all measurements of one instant, later than all before.</summary>
    /// <param name="instant">The measurements, each name once, in any order.</param>
    /// <param name="context">The station.</param>
    /// <returns>The pump-out that they confirm, or null.</returns>
    internal PumpOutSeen? Take(ReadOnlySpan<Measurement> instant, FactsContext context)
    {
        foreach (ref readonly Measurement measurement in instant)
        {
            if (measurement.Name == MeasurementName.AirTemperature)
            {
                Air = new Reading(measurement.At, measurement.Value);
            }
        }

        // A station with several tank sensors is judged by the most direct one.
        foreach (string name in TankReading.Names)
        {
            foreach (ref readonly Measurement measurement in instant)
            {
                if (measurement.Name == name && Read(measurement, context.Setup.Tank) is { } sample)
                {
                    return Take(sample, context);
                }
            }
        }

        return null;
    }

    private TankSample? Read(in Measurement measurement, TankHistory tank)
    {
        double? airTempC = measurement.At - Air?.At <= TankReading.AirTempGoodFor ? Air?.Value : null;
        TankReading reading = new(measurement.Name, measurement.At, measurement.Value, airTempC);
        return tank.Read(reading) is { } amount ? new TankSample(amount.Share, reading) : null;
    }

    private PumpOutSeen? Take(TankSample sample, FactsContext context)
    {
        DateTimeOffset at = sample.Reading.At;
        DateOnly date = context.DayOf(at).Date;
        TankHistory tank = context.Setup.Tank;
        DateTimeOffset? lastAt = Last?.At;
        Last = new Reading(at, sample.Share);
        if (Level is not { } level)
        {
            (Day, DayStart) = (date, sample.Share);
            Follow(sample);
            return null;
        }

        Sensor = Sensor.Take(sample, level, lastAt!.Value, context);
        TurnDay(date, level.Share, context);
        if (lastAt < tank.SameSince(at))
        {
            BeginAnew(sample, level.Share, tank.At(lastAt.Value), tank.At(at));
            return null;
        }

        if (!Window.IsFull || sample.Share > (Fall?.Before ?? level).Share - LeastFall)
        {
            Fall = Fall is { } fall && fall.Back + 1 < MostBack ? fall with { Back = fall.Back + 1 } : null;
            Follow(sample);
            return null;
        }

        Fall = Fall switch
        {
            null => new TankFall(level, at, [sample], 0),
            { } known when sample.Share < known.Low[^1].Share - StillFalling => known with { Low = [sample] },
            { } known => known with { Low = [.. known.Low, sample] },
        };
        return Fall.IsProved ? Confirm(Fall) : null;
    }

    // Another tank or another calibration makes other numbers: neither an inflow nor a pump-out.
    private void BeginAnew(TankSample sample, double level, TankSetup? before, TankSetup? now)
    {
        double scale = before is null || now is null ? 1 : before.CapacityLitres / now.CapacityLitres;
        DailyRises = [.. DailyRises.Select(rise => rise < 0 ? rise : rise * scale)];
        DayPumped *= scale;
        DayStart = sample.Share - ((level - DayStart) * scale);
        (Window, Fall) = (LevelWindow.Empty, null);
        Sensor = Sensor.Anew();
        Follow(sample);
    }

    private PumpOutSeen Confirm(TankFall fall)
    {
        (Window, Fall) = (new LevelWindow(fall.Low), null);
        Level = Window.Believed()!;
        PumpOutConfirmedAt = fall.Low[^1].Reading.At;
        DayPumped += fall.Before.Share - Level.Share;
        Sensor = Sensor.AfterPumpOut(Level.Share);
        return new PumpOutSeen(fall.FirstAt, fall.Before, Level);
    }

    private void Follow(TankSample sample)
    {
        Window = Window.With(sample);
        Level = Window.Believed();
        DateTimeOffset oldest = Window.Samples[0].Reading.At;
        NewUses = NewUses.Count > 0 && NewUses[0].At <= oldest ? [.. NewUses.Where(uses => uses.At > oldest)] : NewUses;
        DayRanFull |= Level!.Share >= RunsOver;
    }

    private void TurnDay(DateOnly date, double level, FactsContext context)
    {
        if (Day is not { } day || date <= day)
        {
            return;
        }

        // Days without a reading share the rise that was found after them; a day on which nobody could come teaches nothing.
        bool[] counts = [.. Enumerable.Range(0, Math.Min(date.DayNumber - day.DayNumber, DaysKept)).Select(i => !context.IsQuietDay(day.AddDays(i)))];
        double rise = Math.Round(SoFar / Math.Max(1, counts.Count(counted => counted)), 5);

        // Of a day on which it ran over, no more is known than that so much came in at least.
        bool isKnown = IsWholeDay && !Sensor.IsInDoubt && !(DayRanFull && rise < MeanDailyRise());
        Sensor = Sensor.EndDay(isKnown ? SoFar : null);
        UsesByHour = [.. UsesByHour.Select(uses => Math.Round(uses * FadingOf28, 2))];
        DailyRises = [.. DailyRises.Concat(counts.Select(counted => counted && isKnown ? rise : Unknown)).TakeLast(DaysKept)];
        (Day, IsWholeDay, DayStart, DayPumped, DayRanFull) = (date, !Sensor.IsInDoubt, level, 0, level >= RunsOver);
    }
}
