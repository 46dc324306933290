namespace StationFleet.Domain.Power;

/// <summary>How much air the sun shines through.</summary>
public static class AirMass
{
    /// <summary>The pressure of the standard atmosphere at sea level [Pa].</summary>
    public const double SeaLevelPa = 101_325;

    /// <summary>Air on the sun's way, as a multiple of the air straight overhead.</summary>
    /// <param name="apparentZenithDeg">The sun's apparent distance from the zenith [°]; 0 to 90, else not a number.</param>
    /// <remarks>F. Kasten and A. T. Young, Applied Optics 28 (1989) 4735-4738.</remarks>
    public static double Relative(double apparentZenithDeg) => apparentZenithDeg is >= 0 and <= 90
        ? 1 / (Math.Cos(double.DegreesToRadians(apparentZenithDeg)) + (0.50572 * Math.Pow(96.07995 - apparentZenithDeg, -1.6364)))
        : double.NaN;

    /// <summary>The same for thinner air.</summary>
    /// <param name="relative">The relative air mass.</param>
    /// <param name="pressurePa">Air pressure [Pa].</param>
    public static double Absolute(double relative, double pressurePa) => relative * pressurePa / SeaLevelPa;

    /// <summary>Air pressure at a height in the standard atmosphere [Pa].</summary>
    /// <param name="heightM">Height over the sea [m].</param>
    /// <remarks>As given by pvlib-python for the standard atmosphere.</remarks>
    public static double PressurePa(double heightM) => 100 * Math.Pow((44331.514 - heightM) / 11880.516, 1 / 0.1902632);
}
