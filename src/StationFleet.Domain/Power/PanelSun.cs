namespace StationFleet.Domain.Power;

/// <summary>What the sun can give to one panel under a clear sky, moment by moment.</summary>
public sealed class PanelSun
{
    private static readonly TimeSpan Step = TimeSpan.FromHours(1);

    private readonly PowerSetup _power;
    private readonly double _latitudeDeg;
    private readonly double _longitudeDeg;
    private readonly SolisSky _air;

    /// <summary>A panel at a place.</summary>
    /// <param name="power">The panel.</param>
    /// <param name="latitudeDeg">WGS 84 latitude [°], north positive.</param>
    /// <param name="longitudeDeg">WGS 84 longitude [°], east positive.</param>
    public PanelSun(PowerSetup power, double latitudeDeg, double longitudeDeg)
    {
        ArgumentNullException.ThrowIfNull(power);
        (_power, _latitudeDeg, _longitudeDeg) = (power, latitudeDeg, longitudeDeg);
        _air = new SolisSky(AirMass.PressurePa(power.HeightM));
    }

    /// <summary>Where the sun stands, and the light on the panel under a clear sky [W/m²].</summary>
    /// <param name="at">Any instant from 1901 to 2099.</param>
    public (SunPosition Sun, double WattsPerM2) At(DateTimeOffset at)
    {
        SunPosition sun = SunPosition.At(at, _latitudeDeg, _longitudeDeg);
        if (sun.ElevationDeg <= 0)
        {
            return (sun, 0);
        }

        double beyondAir = SolisSky.BeyondAirWattsPerM2(at.UtcDateTime.DayOfYear);
        return (sun, PanelLight.WattsPerM2(sun, _power.TiltDeg, _power.AzimuthDeg, _air.At(sun.ApparentElevationDeg, beyondAir), beyondAir));
    }

    /// <summary>What a panel as rated would give under a clear sky in a stretch of time, by steps of about an hour [Wh].</summary>
    /// <param name="from">Its beginning.</param>
    /// <param name="to">Its end.</param>
    public double ClearWattHours(DateTimeOffset from, DateTimeOffset to)
    {
        if (to <= from)
        {
            return 0;
        }

        int steps = Math.Max(1, (int)Math.Round((to - from) / Step));
        TimeSpan step = (to - from) / steps;
        double sum = 0;
        for (int i = 0; i < steps; i++)
        {
            sum += At(from + ((i + 0.5) * step)).WattsPerM2;
        }

        return sum * step.TotalHours * _power.PanelWatts / 1000;
    }

    /// <summary>The sun's day here.</summary>
    /// <param name="date">The local date.</param>
    /// <param name="zone">The time zone.</param>
    public SunDay Day(DateOnly date, TimeZoneInfo zone) => SunDay.Of(date, zone, _latitudeDeg, _longitudeDeg);
}
