using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tanks;

/// <summary>A tank from an instant on.</summary>
/// <param name="From">The first instant; it holds until the next tank.</param>
/// <param name="Tank">The tank.</param>
public sealed record DatedTank(DateTimeOffset From, TankSetup Tank);

/// <summary>
/// A station's waste tanks and the calibrations of their sensors, each from its date on: the one place where litres are made of
/// what a sensor said.
/// </summary>
/// <param name="Tanks">The tanks, in any order.</param>
/// <param name="Calibrations">The calibrations, in any order.</param>
public sealed record TankHistory(IReadOnlyList<DatedTank> Tanks, IReadOnlyList<LevelCalibration> Calibrations)
{
    /// <summary>A station without a tank.</summary>
    public static TankHistory None { get; } = new([], []);

    /// <summary>The tanks, oldest first.</summary>
    public IReadOnlyList<DatedTank> Tanks { get; } = [.. Tanks.OrderBy(tank => tank.From)];

    /// <summary>The calibrations, oldest first.</summary>
    public IReadOnlyList<LevelCalibration> Calibrations { get; } = [.. Calibrations.OrderBy(calibration => calibration.From)];

    /// <summary>One tank since ever, without a calibration.</summary>
    /// <param name="tank">The tank.</param>
    public static TankHistory Of(TankSetup tank) => new([new DatedTank(DateTimeOffset.MinValue, tank)], []);

    /// <summary>The tank at an instant; null when there was none.</summary>
    /// <param name="at">The instant.</param>
    public TankSetup? At(DateTimeOffset at) => DatedAt(at)?.Tank;

    /// <summary>What a reading says of the tank of its time; null when there was none, or its setup lacks what the reading needs.</summary>
    /// <param name="reading">The reading.</param>
    public TankAmount? Read(TankReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return DatedAt(reading.At) is { } dated ? dated.Tank.Read(reading, CalibrationOf(reading.Name, reading.At, dated)) : null;
    }

    /// <summary>What the most direct of a station's tank sensors says.</summary>
    /// <param name="measurements">Measurements of about one time, each name once; the air's temperature among them counts.</param>
    /// <returns>The reading and what it says; null when none of them says anything.</returns>
    public (TankReading Reading, TankAmount Amount)? ReadBest(IReadOnlyCollection<Measurement> measurements)
    {
        foreach (TankReading reading in TankReading.Among(measurements))
        {
            if (Read(reading) is { } amount)
            {
                return (reading, amount);
            }
        }

        return null;
    }

    /// <summary>What the station's sensor would say of a volume; null when it has no tank then.</summary>
    /// <param name="litres">The volume [L].</param>
    /// <param name="at">When.</param>
    /// <param name="airTempC">The air's temperature then [°C].</param>
    public TankReading? Say(double litres, DateTimeOffset at, double airTempC) => DatedAt(at) is { } dated
        ? new TankReading(
            dated.Tank.SensorName, at, dated.Tank.Say(litres, airTempC, CalibrationOf(dated.Tank.SensorName, at, dated)), airTempC)
        : null;

    /// <summary>Since when readings are made litres in the way of an instant: its tank's or a calibration's first instant.</summary>
    /// <param name="at">The instant.</param>
    /// <returns>Null when there was no tank.</returns>
    public DateTimeOffset? SameSince(DateTimeOffset at) => DatedAt(at) is { } dated
        ? Calibrations.Where(calibration => calibration.From <= at).Select(calibration => calibration.From).Append(dated.From).Max()
        : null;

    private DatedTank? DatedAt(DateTimeOffset at) => Tanks.LastOrDefault(tank => tank.From <= at);

    // Another tank, another sensor above another bottom: what was calibrated before says nothing of it.
    private LevelCalibration? CalibrationOf(string name, DateTimeOffset at, DatedTank dated) => Calibrations.LastOrDefault(
        calibration => calibration.Name == name && calibration.From <= at && calibration.From >= dated.From);
}
