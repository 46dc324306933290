namespace StationFleet.Domain.Tanks;

/// <summary>What a person measured with a stick before emptying a tank: litres, or the height of the liquid.</summary>
/// <param name="Litres">The volume [L]; null when a height was read.</param>
/// <param name="LevelM">The height [m]; null when a volume was read.</param>
public sealed record DipReading(double? Litres, double? LevelM)
{
    /// <summary>The volume [L] in the tank of that time; null when a height was read and the tank's shape is not known.</summary>
    /// <param name="tank">The tank.</param>
    public double? LitresIn(TankSetup? tank) => Litres ?? (LevelM is { } levelM ? tank?.Shape?.LitresAt(levelM) : null);
}

/// <summary>A dip beside what the calibrated sensor said before the same emptying.</summary>
/// <param name="At">When the tank was emptied.</param>
/// <param name="DipLitres">What the person measured [L].</param>
/// <param name="SensorLitres">What the sensor said [L].</param>
/// <param name="CapacityLitres">The tank's capacity [L].</param>
public sealed record TankDip(DateTimeOffset At, double DipLitres, double SensorLitres, double CapacityLitres)
{
    /// <summary>How much more the sensor said, as a share of capacity.</summary>
    public double Difference => (SensorLitres - DipLitres) / CapacityLitres;

    /// <summary>Compares a dip with a reading; null when either says nothing of the tank of its time.</summary>
    /// <param name="tank">The station's tanks and calibrations.</param>
    /// <param name="at">When the tank was emptied.</param>
    /// <param name="dip">The dip.</param>
    /// <param name="sensor">What the sensor said before the emptying.</param>
    public static TankDip? Of(TankHistory tank, DateTimeOffset at, DipReading dip, TankReading sensor)
    {
        ArgumentNullException.ThrowIfNull(tank);
        ArgumentNullException.ThrowIfNull(dip);
        return dip.LitresIn(tank.At(sensor.At)) is { } litres && tank.Read(sensor) is { } amount
            ? new TankDip(at, litres, amount.Litres, amount.CapacityLitres)
            : null;
    }
}
