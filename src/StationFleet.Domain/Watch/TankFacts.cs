using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>A tank's fill, and the reading that says so.</summary>
/// <param name="Share">Share of capacity.</param>
/// <param name="Reading">What the sensor said.</param>
public sealed record TankSample(double Share, TankReading Reading);

/// <summary>An emptying that the fill shows, by a fall that the next reading confirms.</summary>
/// <param name="At">The first reading after the fall: the emptying lies between the reading before and this one.</param>
/// <param name="Before">The fill before it.</param>
/// <param name="After">The lowest fill when the fall had ended.</param>
public sealed record PumpOutSeen(DateTimeOffset At, TankSample Before, TankSample After)
{
    /// <summary>What the sensor said, for making litres of it.</summary>
    public EmptyingReadings Readings => new(Before.Reading, After.Reading);
}

/// <summary>A fall of the fill that may be a pump-out or a false reading.</summary>
/// <param name="Before">The fill before it.</param>
/// <param name="FirstAt">The first reading that fell.</param>
/// <param name="Lowest">The lowest fill since.</param>
public sealed record TankFall(TankSample Before, DateTimeOffset FirstAt, TankSample Lowest);

/// <summary>What is known of a waste tank's fill, in shares of its capacity.</summary>
/// <remarks>
/// A single reading far from the others proves nothing: a jump up counts when the next reading agrees, a fall of at least a
/// tenth is a pump-out when the next reading agrees and the fall has ended. In between, the level only rises, or follows a lower
/// reading after two hours, so that the noise of the sensor adds up to no inflow.
/// </remarks>
public sealed record TankFacts
{
    /// <summary>The least fall that counts as a pump-out, as a share of capacity.</summary>
    public const double LeastFall = 0.10;

    private const double StillFalling = 0.02;
    private const int DaysKept = 7;
    private const int DaysNeeded = 3;
    private static readonly TimeSpan LowEnough = TimeSpan.FromHours(2);

    /// <summary>The newest reading, as a share of capacity.</summary>
    public Reading? Last { get; set; }

    /// <summary>The reading before the newest, as a share of capacity; null when another tank or calibration came between.</summary>
    public Reading? Previous { get; set; }

    /// <summary>The level that readings have confirmed.</summary>
    public TankSample? Level { get; set; }

    /// <summary>Since when readings lie under the level.</summary>
    public DateTimeOffset? BelowSince { get; set; }

    /// <summary>A jump up that waits for the next reading.</summary>
    public TankSample? Jump { get; set; }

    /// <summary>A fall that waits for the next reading.</summary>
    public TankFall? Fall { get; set; }

    /// <summary>The newest air temperature [°C], for sensors that time an echo.</summary>
    public Reading? Air { get; set; }

    /// <summary>The last pump-out.</summary>
    public PumpOutSeen? LastPumpOut { get; set; }

    /// <summary>The local day that is being added up.</summary>
    public DateOnly Day { get; set; }

    /// <summary>The level at the start of that day.</summary>
    public double DayStart { get; set; }

    /// <summary>What pump-outs took away on that day.</summary>
    public double DayPumped { get; set; }

    /// <summary>What came in on each of the last whole days, oldest first; seven at most.</summary>
    public IReadOnlyList<double> DailyRises { get; set; } = [];

    /// <summary>Mean inflow of the last whole days, as a share of capacity a day; null before three of them are known.</summary>
    public double? MeanDailyRise() => DailyRises.Count >= DaysNeeded ? DailyRises.Average() : null;

    /// <summary>Takes all measurements of one instant, later than all before.</summary>
    /// <param name="instant">The measurements, each name once, in any order.</param>
    /// <param name="date">Their local date.</param>
    /// <param name="tank">The station's tanks and calibrations.</param>
    /// <returns>The pump-out that they confirm, or null.</returns>
    internal PumpOutSeen? Take(ReadOnlySpan<Measurement> instant, DateOnly date, TankHistory tank)
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
                if (measurement.Name == name && Read(measurement, tank) is { } sample)
                {
                    return Take(sample, date, tank);
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

    private PumpOutSeen? Take(TankSample sample, DateOnly date, TankHistory tank)
    {
        DateTimeOffset at = sample.Reading.At;
        DateTimeOffset? lastAt = Last?.At;
        (Previous, Last) = (Last, new Reading(at, sample.Share));
        if (Level is not { } level)
        {
            (Level, Day, DayStart) = (sample, date, sample.Share);
            return null;
        }

        TurnDay(date, level.Share);
        if (lastAt < tank.SameSince(at))
        {
            BeginAnew(sample, level.Share, tank.At(lastAt.Value), tank.At(at));
            return null;
        }

        if (Fall is { } fall)
        {
            if (sample.Share <= fall.Before.Share - LeastFall)
            {
                return sample.Share < fall.Lowest.Share - StillFalling ? Wait(fall with { Lowest = sample }) : Confirm(fall, sample);
            }

            Fall = null;
        }

        Follow(level, sample);
        return null;
    }

    // Another tank or another calibration makes other numbers: neither an inflow nor a pump-out.
    private void BeginAnew(TankSample sample, double level, TankSetup? before, TankSetup? now)
    {
        double scale = before is null || now is null ? 1 : before.CapacityLitres / now.CapacityLitres;
        DailyRises = [.. DailyRises.Select(rise => rise * scale)];
        DayPumped *= scale;
        DayStart = sample.Share - ((level - DayStart) * scale);
        (Level, Previous, Fall, Jump, BelowSince) = (sample, null, null, null, null);
    }

    private PumpOutSeen? Wait(TankFall fall)
    {
        Fall = fall;
        return null;
    }

    private PumpOutSeen Confirm(TankFall fall, TankSample sample)
    {
        TankSample lowest = Lower(fall.Lowest, sample);
        LastPumpOut = new PumpOutSeen(fall.FirstAt, fall.Before, lowest);
        DayPumped += fall.Before.Share - lowest.Share;
        (Level, Fall, Jump, BelowSince) = (sample, null, null, null);
        return LastPumpOut;
    }

    private void Follow(TankSample level, TankSample sample)
    {
        if (sample.Share <= level.Share - LeastFall)
        {
            (Fall, Jump) = (new TankFall(level, sample.Reading.At, sample), null);
            return;
        }

        if (sample.Share >= level.Share + LeastFall)
        {
            (Level, Jump) = Jump is { } jump ? (Lower(jump, sample), null) : (level, sample);
            BelowSince = null;
            return;
        }

        Jump = null;
        BelowSince = sample.Share < level.Share ? BelowSince ?? sample.Reading.At : null;
        if (BelowSince is null || sample.Reading.At - BelowSince >= LowEnough)
        {
            (Level, BelowSince) = (sample, null);
        }
    }

    private static TankSample Lower(TankSample a, TankSample b) => b.Share < a.Share ? b : a;

    private void TurnDay(DateOnly date, double level)
    {
        int days = date.DayNumber - Day.DayNumber;
        if (days <= 0)
        {
            return;
        }

        // Days without a reading share the rise that was found after them.
        double rise = Math.Max(0, level - DayStart + DayPumped) / days;
        DailyRises = [.. DailyRises.Concat(Enumerable.Repeat(rise, Math.Min(days, DaysKept))).TakeLast(DaysKept)];
        (Day, DayStart, DayPumped) = (date, level, 0);
    }
}
