namespace StationFleet.Domain.Power;

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
