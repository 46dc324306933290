namespace StationFleet.Domain.Power;

/// <summary>Sunlight under a clear sky.</summary>
/// <param name="GlobalWattsPerM2">On a level surface [W/m²].</param>
/// <param name="DirectWattsPerM2">Straight from the sun, on a surface that faces it [W/m²].</param>
/// <param name="DiffuseWattsPerM2">From the rest of the sky, on a level surface [W/m²].</param>
public readonly record struct SkyLight(double GlobalWattsPerM2, double DirectWattsPerM2, double DiffuseWattsPerM2);

/// <summary>The clear sky over a place, by the simplified Solis model.</summary>
/// <remarks>
/// P. Ineichen, Solar Energy 82 (2008) 758-762, with the coefficients as pvlib-python has them. Aerosol and water are those of
/// clean summer air unless said otherwise: whatever is wrong with that is the same every day, and each panel is judged against itself.
/// </remarks>
public sealed class SolisSky
{
    private const double ThinHaze = 0.05;

    private readonly double _light;
    private readonly double _directDepth;
    private readonly double _directPower;
    private readonly double _globalDepth;
    private readonly double _globalPower;
    private readonly double _diffuseDepth;
    private readonly double _diffusePower;

    /// <summary>The sky over a place.</summary>
    /// <param name="pressurePa">Air pressure [Pa].</param>
    /// <param name="aerosolDepth">Aerosol optical depth at 700 nm, 0 to 0.45.</param>
    /// <param name="waterCm">Water in the air, as a depth of rain [cm]; less than 0.2 counts as 0.2.</param>
    public SolisSky(double pressurePa = AirMass.SeaLevelPa, double aerosolDepth = 0.1, double waterCm = 1)
    {
        double a = aerosolDepth;
        double w = Math.Max(0.2, waterCm);
        double lnW = Math.Log(w);
        double lnP = Math.Log(pressurePa / AirMass.SeaLevelPa);

        _light = (0.12 * Math.Pow(w, 0.56) * a * a) + (0.97 * Math.Pow(w, 0.032) * a) + (1.08 * Math.Pow(w, 0.0051)) + (0.071 * lnP);

        _directDepth = ((1.82 + (0.056 * lnW) + (0.0071 * lnW * lnW)) * a) + 0.33 + (0.045 * lnW) + (0.0096 * lnW * lnW)
            + (((0.0089 * w) + 0.13) * lnP);
        _directPower = (((0.00925 * a * a) + (0.0148 * a) - 0.0172) * lnW) - (0.7565 * a * a) + (0.5057 * a) + 0.4557;

        _globalDepth = ((1.24 + (0.047 * lnW) + (0.0061 * lnW * lnW)) * a) + 0.27 + (0.043 * lnW) + (0.0090 * lnW * lnW)
            + (((0.0079 * w) + 0.1) * lnP);
        _globalPower = (-0.0147 * lnW) - (0.3079 * a * a) + (0.2846 * a) + 0.3798;

        double[] d = a < ThinHaze
            ? [(0.0042 * w) + 3.12, (0.092 * w) - 8.86, (-0.23 * w) + 74.8, (-3.11 * w) + 79.4, (86 * w) - 13800]
            : [(0.0057 * w) + 2.94, (0.0554 * w) - 5.71, (-0.134 * w) + 15.5, (0.27 * w) - 20.7, (-0.21 * w) + 11.6];
        double thinning = a < ThinHaze ? -0.83 * Math.Pow(1 + a, -17.2) : -0.71 * Math.Pow(1 + a, -15.0);
        _diffuseDepth = d[0] + (a * (d[1] + (a * (d[2] + (a * (d[3] + (a * d[4]))))))) + (thinning * lnP);
        _diffusePower = (-0.337 * a * a) + (0.63 * a) + 0.116 + (lnP / (18 + (152 * a)));
    }

    /// <summary>Sunlight with the sun at a height; none when it is down.</summary>
    /// <param name="apparentElevationDeg">The sun's apparent height over the horizon [°].</param>
    /// <param name="beyondAirWattsPerM2">Sunlight outside the air [W/m²].</param>
    public SkyLight At(double apparentElevationDeg, double beyondAirWattsPerM2)
    {
        double sin = Math.Sin(double.DegreesToRadians(apparentElevationDeg));
        if (sin <= 0)
        {
            return default;
        }

        double ln = Math.Log(sin);
        double light = beyondAirWattsPerM2 * _light;
        return new SkyLight(
            light * Math.Exp(-_globalDepth * Math.Exp(-_globalPower * ln)) * sin,
            light * Math.Exp(-_directDepth * Math.Exp(-_directPower * ln)),
            light * Math.Exp(-_diffuseDepth * Math.Exp(-_diffusePower * ln)));
    }

    /// <summary>Sunlight outside the air on a day of the year, on a surface that faces the sun [W/m²].</summary>
    /// <param name="dayOfYear">1 to 366.</param>
    /// <remarks>J. W. Spencer, Search 2 (1971) 172, with a solar constant of 1366.1 W/m².</remarks>
    public static double BeyondAirWattsPerM2(int dayOfYear)
    {
        double b = 2 * Math.PI * (dayOfYear - 1) / 365;
        return 1366.1 * (1.00011 + (0.034221 * Math.Cos(b)) + (0.00128 * Math.Sin(b)) + (0.000719 * Math.Cos(2 * b)) + (0.000077 * Math.Sin(2 * b)));
    }
}
