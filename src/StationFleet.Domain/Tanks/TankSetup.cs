using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tanks;

/// <summary>A waste tank as it is set up from a date on.</summary>
/// <param name="CapacityLitres">Volume that counts as full [L]; positive. A drum's name («55 gallon») is not its brim.</param>
/// <param name="Shape">Makes litres of a level; null when the station sends <c>tank/fill</c>.</param>
/// <param name="SensorHeightM">Sensor face above the tank's bottom [m], for distance sensors; null when none.</param>
public sealed record TankSetup(double CapacityLitres, TankShape? Shape = null, double? SensorHeightM = null)
{
    /// <summary>
    /// What a level sensor is trusted to be worth when nobody says otherwise: a standard uncertainty of 2 % of capacity (common
    /// practice, no source).
    /// </summary>
    public const double UsualSensorUncertainty = 0.02;

    /// <summary>
    /// The air temperature that a distance sensor reckons with [°C]; null when it measures the air itself, so that nothing is left
    /// to correct.
    /// </summary>
    public double? SensorAssumesC { get; init; }

    /// <summary>Standard uncertainty of the sensor by its data sheet, as a share of capacity.</summary>
    public double SensorUncertainty { get; init; } = UsualSensorUncertainty;

    /// <summary>What a station with this tank sends.</summary>
    public string SensorName => (Shape, SensorHeightM) switch
    {
        (null, _) => MeasurementName.TankFill,
        (_, null) => MeasurementName.TankLevel,
        _ => MeasurementName.TankDistance,
    };

    /// <summary>What a reading says of the tank; null when the setup lacks what this measurement needs.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="calibration">The sensor's calibration at that time; null when it never was calibrated.</param>
    internal TankAmount? Read(TankReading reading, LevelCalibration? calibration)
    {
        if (reading.Name == MeasurementName.TankFill)
        {
            double share = Math.Max(0, calibration?.TrueOf(reading.Value) ?? reading.Value);
            return new TankAmount(share * CapacityLitres, CapacityLitres, Shape?.LevelAt(share * CapacityLitres));
        }

        return Shape is { } shape && LevelOf(reading, calibration) is { } levelM
            ? new TankAmount(shape.LitresAt(levelM), CapacityLitres, Math.Max(0, levelM))
            : null;
    }

    /// <summary>What the sensor would say of a volume: <see cref="Read"/> the other way round.</summary>
    /// <param name="litres">The volume [L].</param>
    /// <param name="airTempC">The air's temperature [°C].</param>
    /// <param name="calibration">The sensor's calibration at that time; null when it never was calibrated.</param>
    internal double Say(double litres, double airTempC, LevelCalibration? calibration)
    {
        if (Shape is not { } shape)
        {
            return Raw(litres / CapacityLitres);
        }

        double levelM = shape.LevelAt(litres);
        if (SensorHeightM is not { } sensorM)
        {
            return Raw(levelM);
        }

        double distanceM = calibration is null ? sensorM - levelM : calibration.RawOf(levelM);
        return Reference(calibration) is { } assumedC ? SpeedOfSound.Corrected(distanceM, assumedC, airTempC) : distanceM;

        double Raw(double value) => calibration?.RawOf(value) ?? value;
    }

    private double? LevelOf(TankReading reading, LevelCalibration? calibration)
    {
        if (reading.Name == MeasurementName.TankLevel)
        {
            return calibration?.TrueOf(reading.Value) ?? reading.Value;
        }

        double distanceM = Reference(calibration) is { } assumedC && reading.AirTempC is { } airC
            ? SpeedOfSound.Corrected(reading.Value, airC, assumedC)
            : reading.Value;
        return calibration?.TrueOf(distanceM) ?? SensorHeightM - distanceM;
    }

    // A calibration made right what the sensor said at the temperature of that day.
    private double? Reference(LevelCalibration? calibration) => SensorAssumesC is { } assumedC ? calibration?.AirTempC ?? assumedC : null;
}
