namespace StationFleet.Domain.Tanks;

/// <summary>How fast sound goes through air, for sensors that time an echo.</summary>
/// <remarks>
/// c = 331.3 m/s · √(1 + T/273.15 °C), of which 331.3 + 0.606 T is the usual straight line (S. Holm, good to about ±30 °C). Humidity
/// adds up to half a percent at 40 °C and is left out.
/// </remarks>
public static class SpeedOfSound
{
    private const double AtFreezingMPerS = 331.3;
    private const double FreezingK = 273.15;

    /// <summary>The speed of sound in dry air [m/s].</summary>
    /// <param name="airTempC">Air temperature [°C]; above −100.</param>
    public static double At(double airTempC) => AtFreezingMPerS * Math.Sqrt(1 + (Math.Max(-100, airTempC) / FreezingK));

    /// <summary>The true distance behind what a sensor said that reckoned with one fixed temperature.</summary>
    /// <param name="saidM">What it said [m].</param>
    /// <param name="airTempC">The air's temperature then [°C].</param>
    /// <param name="assumedTempC">The temperature that the sensor reckons with [°C].</param>
    /// <returns>The distance [m]: the echo's time is the same, the speed is not.</returns>
    public static double Corrected(double saidM, double airTempC, double assumedTempC) => saidM * At(airTempC) / At(assumedTempC);
}
