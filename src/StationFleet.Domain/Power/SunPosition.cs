namespace StationFleet.Domain.Power;

/// <summary>Where the sun stands.</summary>
/// <param name="ElevationDeg">Height of the sun's centre over the horizon, without refraction [°].</param>
/// <param name="AzimuthDeg">Direction, from north through east [°].</param>
public readonly record struct SunPosition(double ElevationDeg, double AzimuthDeg)
{
    /// <summary>Height of the sun's centre over the horizon as it is seen through the air [°].</summary>
    public double ApparentElevationDeg => ElevationDeg + RefractionDeg(ElevationDeg);

    /// <summary>The sun's position at a place and time.</summary>
    /// <param name="at">Any instant from 1901 to 2099.</param>
    /// <param name="latitudeDeg">WGS 84 latitude [°], north positive.</param>
    /// <param name="longitudeDeg">WGS 84 longitude [°], east positive.</param>
    /// <remarks>
    /// The low-precision formulae of the NOAA Global Monitoring Laboratory («Solar Calculation Details», after J. Meeus,
    /// Astronomical Algorithms): good to about 0.02° in elevation.
    /// </remarks>
    public static SunPosition At(DateTimeOffset at, double latitudeDeg, double longitudeDeg)
    {
        double minutesUtc = at.UtcDateTime.TimeOfDay.TotalMinutes;
        (double declination, double equationMinutes) = Course(at);
        double hourAngle = (Mod(minutesUtc + equationMinutes + (4 * longitudeDeg), 1440) / 4) - 180;

        double cosZenith = Math.Clamp(
            (Sin(latitudeDeg) * Sin(declination)) + (Cos(latitudeDeg) * Cos(declination) * Cos(hourAngle)), -1, 1);
        double azimuth = Degrees(Math.Atan2(
            -Cos(declination) * Sin(hourAngle),
            (Sin(declination) * Cos(latitudeDeg)) - (Cos(declination) * Cos(hourAngle) * Sin(latitudeDeg))));
        return new SunPosition(Degrees(Math.Asin(cosZenith)), Mod(azimuth, 360));
    }

    /// <summary>The sun's declination [°] and the equation of time [min]: true solar time is mean solar time and this.</summary>
    /// <param name="at">Any instant from 1901 to 2099.</param>
    public static (double DeclinationDeg, double EquationMinutes) Course(DateTimeOffset at)
    {
        double t = ((at.ToUnixTimeMilliseconds() / 86_400_000.0) + 2440587.5 - 2451545.0) / 36525;
        double meanLongitude = Mod(280.46646 + (t * (36000.76983 + (0.0003032 * t))), 360);
        double anomaly = 357.52911 + (t * (35999.05029 - (0.0001537 * t)));
        double eccentricity = 0.016708634 - (t * (0.000042037 + (0.0000001267 * t)));
        double centre = (Sin(anomaly) * (1.914602 - (t * (0.004817 + (0.000014 * t)))))
            + (Sin(2 * anomaly) * (0.019993 - (0.000101 * t))) + (Sin(3 * anomaly) * 0.000289);
        double node = 125.04 - (1934.136 * t);
        double longitude = meanLongitude + centre - 0.00569 - (0.00478 * Sin(node));
        double obliquity = 23 + ((26 + ((21.448 - (t * (46.815 + (t * (0.00059 - (0.001813 * t)))))) / 60)) / 60) + (0.00256 * Cos(node));
        double declination = Degrees(Math.Asin(Sin(obliquity) * Sin(longitude)));
        double y = Math.Pow(Math.Tan(Radians(obliquity / 2)), 2);
        double equationMinutes = 4 * Degrees(
            (y * Sin(2 * meanLongitude)) - (2 * eccentricity * Sin(anomaly))
            + (4 * eccentricity * y * Sin(anomaly) * Cos(2 * meanLongitude))
            - (0.5 * y * y * Sin(4 * meanLongitude)) - (1.25 * eccentricity * eccentricity * Sin(2 * anomaly)));
        return (declination, equationMinutes);
    }

    /// <summary>How much higher the air makes the sun appear [°].</summary>
    /// <param name="elevationDeg">Its true elevation [°].</param>
    /// <remarks>NOAA Global Monitoring Laboratory, «Solar Calculation Details»: four pieces by elevation.</remarks>
    public static double RefractionDeg(double elevationDeg)
    {
        double tan = Math.Tan(Radians(elevationDeg));
        double seconds = elevationDeg switch
        {
            > 85 => 0,
            > 5 => (58.1 / tan) - (0.07 / (tan * tan * tan)) + (0.000086 / (tan * tan * tan * tan * tan)),
            > -0.575 => 1735 + (elevationDeg * (-518.2 + (elevationDeg * (103.4 + (elevationDeg * (-12.79 + (elevationDeg * 0.711))))))),
            _ => -20.774 / tan,
        };
        return seconds / 3600;
    }

    private static double Sin(double deg) => Math.Sin(Radians(deg));

    private static double Cos(double deg) => Math.Cos(Radians(deg));

    private static double Radians(double deg) => deg * Math.PI / 180;

    private static double Degrees(double rad) => rad * 180 / Math.PI;

    private static double Mod(double value, double by) => ((value % by) + by) % by;
}
