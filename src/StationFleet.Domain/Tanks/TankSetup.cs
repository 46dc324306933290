namespace StationFleet.Domain.Tanks;

/// <summary>A waste tank as it is set up from a date on.</summary>
/// <param name="CapacityLitres">Volume that counts as full [L]; positive.</param>
/// <param name="HeightM">Liquid height at capacity [m], for level sensors; null when the station sends <c>tank/fill</c>.</param>
/// <param name="SensorHeightM">Sensor face above the tank's bottom [m], for distance sensors; null when none.</param>
public sealed record TankSetup(double CapacityLitres, double? HeightM, double? SensorHeightM)
{
    /// <summary>
    /// The share of capacity that a measurement says, for an upright tank of even cross-section; null when the setup lacks the
    /// height that the measurement needs.
    /// </summary>
    /// <param name="name">One of the <c>tank/…</c> names.</param>
    /// <param name="value">The value in the name's canonical unit.</param>
    /// <returns>Share of capacity, 0 or more; a tank filled past its capacity gives more than 1.</returns>
    public double? FillShare(string name, double value) => (name, HeightM, SensorHeightM) switch
    {
        (Telemetry.MeasurementName.TankFill, _, _) => value,
        (Telemetry.MeasurementName.TankLevel, { } height, _) => Math.Max(0, value / height),
        (Telemetry.MeasurementName.TankDistance, { } height, { } sensor) => Math.Max(0, (sensor - value) / height),
        _ => null,
    };
}
