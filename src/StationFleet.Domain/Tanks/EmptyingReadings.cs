namespace StationFleet.Domain.Tanks;

/// <summary>What the sensor said before and after an emptying: the litres follow from it by the tank and calibration of then.</summary>
/// <param name="Before">Before it.</param>
/// <param name="After">After it.</param>
public sealed record EmptyingReadings(TankReading Before, TankReading After)
{
    /// <summary>What went out [L], 0 or more; null when the readings say nothing of the tank of their time.</summary>
    /// <param name="tank">The station's tanks and calibrations.</param>
    public double? LitresBy(TankHistory tank)
    {
        ArgumentNullException.ThrowIfNull(tank);
        return tank.Read(Before) is { } before && tank.Read(After) is { } after ? Math.Max(0, before.Litres - after.Litres) : null;
    }
}
