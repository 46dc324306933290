namespace StationFleet.Domain.Power;

/// <summary>How much of the sky's light falls on a tilted panel.</summary>
public static class PanelLight
{
    /// <summary>What grass and water throw back (common practice).</summary>
    public const double UsualAlbedo = 0.2;

    // The sun less than a degree high: divided by no less than this.
    private const double LeastSine = 0.01745;

    /// <summary>The cosine of the angle between the sun and the panel's normal, −1 to 1; negative: the sun is behind it.</summary>
    /// <param name="zenithDeg">The sun's distance from the zenith [°].</param>
    /// <param name="sunAzimuthDeg">The sun's direction, from north through east [°].</param>
    /// <param name="tiltDeg">The panel's tilt from horizontal [°].</param>
    /// <param name="azimuthDeg">Where it faces, from north through east [°].</param>
    public static double CosIncidence(double zenithDeg, double sunAzimuthDeg, double tiltDeg, double azimuthDeg) => Math.Clamp(
        (Cos(zenithDeg) * Cos(tiltDeg)) + (Sin(zenithDeg) * Sin(tiltDeg) * Cos(sunAzimuthDeg - azimuthDeg)), -1, 1);

    /// <summary>Sky light on a panel when it comes evenly from everywhere [W/m²].</summary>
    /// <param name="tiltDeg">The panel's tilt [°].</param>
    /// <param name="diffuseWattsPerM2">Diffuse light on a level surface [W/m²].</param>
    public static double EvenSky(double tiltDeg, double diffuseWattsPerM2) => diffuseWattsPerM2 * (1 + Cos(tiltDeg)) / 2;

    /// <summary>Sky light on a panel when a part of it comes from around the sun [W/m²].</summary>
    /// <param name="tiltDeg">The panel's tilt [°].</param>
    /// <param name="cosIncidence">The cosine of the angle of incidence.</param>
    /// <param name="cosZenith">The cosine of the sun's distance from the zenith.</param>
    /// <param name="sky">The sky's light.</param>
    /// <param name="beyondAirWattsPerM2">Sunlight outside the air [W/m²].</param>
    /// <remarks>J. E. Hay and J. A. Davies, Proc. First Canadian Solar Radiation Data Workshop (1980) 59.</remarks>
    public static double HayDavies(double tiltDeg, double cosIncidence, double cosZenith, SkyLight sky, double beyondAirWattsPerM2)
    {
        double around = sky.DirectWattsPerM2 / beyondAirWattsPerM2;
        double turned = Math.Max(cosIncidence, 0) / Math.Max(cosZenith, LeastSine);
        return sky.DiffuseWattsPerM2 * ((around * turned) + ((1 - around) * (1 + Cos(tiltDeg)) / 2));
    }

    /// <summary>Light from the ground on a panel [W/m²].</summary>
    /// <param name="tiltDeg">The panel's tilt [°].</param>
    /// <param name="globalWattsPerM2">Light on a level surface [W/m²].</param>
    /// <param name="albedo">The share that the ground throws back, 0 to 1.</param>
    public static double Ground(double tiltDeg, double globalWattsPerM2, double albedo = UsualAlbedo) =>
        0.5 * globalWattsPerM2 * albedo * (1 - Cos(tiltDeg));

    /// <summary>All light on a panel: straight from the sun, from the sky (Hay and Davies) and from the ground [W/m²].</summary>
    /// <param name="sun">Where the sun stands.</param>
    /// <param name="tiltDeg">The panel's tilt [°].</param>
    /// <param name="azimuthDeg">Where it faces, from north through east [°].</param>
    /// <param name="sky">The sky's light.</param>
    /// <param name="beyondAirWattsPerM2">Sunlight outside the air [W/m²].</param>
    public static double WattsPerM2(SunPosition sun, double tiltDeg, double azimuthDeg, SkyLight sky, double beyondAirWattsPerM2)
    {
        double zenith = 90 - sun.ApparentElevationDeg;
        double cosIncidence = CosIncidence(zenith, sun.AzimuthDeg, tiltDeg, azimuthDeg);
        return (sky.DirectWattsPerM2 * Math.Max(0, cosIncidence))
            + HayDavies(tiltDeg, cosIncidence, Cos(zenith), sky, beyondAirWattsPerM2)
            + Ground(tiltDeg, sky.GlobalWattsPerM2);
    }

    private static double Sin(double deg) => Math.Sin(double.DegreesToRadians(deg));

    private static double Cos(double deg) => Math.Cos(double.DegreesToRadians(deg));
}
