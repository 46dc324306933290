namespace StationFleet.Domain.Power;

/// <summary>Where the sun stands.</summary>
/// <param name="ElevationDeg">Height of the sun's centre over the horizon, without refraction [°].</param>
/// <param name="AzimuthDeg">Direction, from north through east [°].</param>
public readonly record struct SunPosition(double ElevationDeg, double AzimuthDeg)
{
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
        double hourAngle = (Mod(minutesUtc + equationMinutes + (4 * longitudeDeg), 1440) / 4) - 180;

        double cosZenith = Math.Clamp(
            (Sin(latitudeDeg) * Sin(declination)) + (Cos(latitudeDeg) * Cos(declination) * Cos(hourAngle)), -1, 1);
        double azimuth = Degrees(Math.Atan2(
            -Cos(declination) * Sin(hourAngle),
            (Sin(declination) * Cos(latitudeDeg)) - (Cos(declination) * Cos(hourAngle) * Sin(latitudeDeg))));
        return new SunPosition(Degrees(Math.Asin(cosZenith)), Mod(azimuth, 360));
    }

    private static double Sin(double deg) => Math.Sin(Radians(deg));

    private static double Cos(double deg) => Math.Cos(Radians(deg));

    private static double Radians(double deg) => deg * Math.PI / 180;

    private static double Degrees(double rad) => rad * 180 / Math.PI;

    private static double Mod(double value, double by) => ((value % by) + by) % by;
}

/// <summary>What the sun would give without clouds.</summary>
public static class ClearSky
{
    /// <summary>Power on a level surface under a clear sky [W/m²].</summary>
    /// <param name="elevationDeg">The sun's height over the horizon [°].</param>
    /// <remarks>GHI = 1098·cos z·exp(−0.059/cos z). Source: B. Haurwitz, J. Meteorology 2 (1945) 154-166 and 3 (1946) 123-124.</remarks>
    public static double HaurwitzWattsPerM2(double elevationDeg)
    {
        double cosZenith = Math.Sin(elevationDeg * Math.PI / 180);
        return cosZenith <= 0 ? 0 : 1098 * cosZenith * Math.Exp(-0.059 / cosZenith);
    }

    /// <summary>Power on a tilted panel under a clear sky [W/m²].</summary>
    /// <param name="sun">Where the sun stands.</param>
    /// <param name="tiltDeg">The panel's tilt from horizontal [°].</param>
    /// <param name="azimuthDeg">Where it faces, from north through east [°].</param>
    /// <remarks>
    /// Splits Haurwitz's sum into 85 % beam and 15 % even sky light (our rough share, no source), which is enough for an invented
    /// day; a watch over real panels needs a better model.
    /// </remarks>
    public static double OnPanelWattsPerM2(SunPosition sun, double tiltDeg, double azimuthDeg)
    {
        const double BeamShare = 0.85;
        double level = HaurwitzWattsPerM2(sun.ElevationDeg);
        if (level <= 0)
        {
            return 0;
        }

        double rad = Math.PI / 180;
        double sinElevation = Math.Sin(sun.ElevationDeg * rad);
        double cosIncidence = (sinElevation * Math.Cos(tiltDeg * rad))
            + (Math.Cos(sun.ElevationDeg * rad) * Math.Sin(tiltDeg * rad) * Math.Cos((sun.AzimuthDeg - azimuthDeg) * rad));
        double beam = BeamShare * level * Math.Max(0, cosIncidence) / Math.Max(sinElevation, 0.1);
        double sky = (1 - BeamShare) * level * (1 + Math.Cos(tiltDeg * rad)) / 2;
        return Math.Min(1100, beam + sky);
    }
}
