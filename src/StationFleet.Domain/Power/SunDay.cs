using StationFleet.Domain.Time;

namespace StationFleet.Domain.Power;

/// <summary>When the sun rises, stands highest and sets on a local date; rise and set are null where it does not.</summary>
/// <param name="Rise">When its upper edge appears.</param>
/// <param name="Noon">When it stands highest.</param>
/// <param name="Set">When its upper edge vanishes.</param>
public sealed record SunDay(DateTimeOffset? Rise, DateTimeOffset Noon, DateTimeOffset? Set)
{
    // The sun's radius and the usual refraction at the horizon.
    private const double HorizonZenithDeg = 90.833;
    private const int Passes = 2;

    /// <summary>The sun's day at a place.</summary>
    /// <param name="date">The local date: an evening west of Greenwich falls on the next date in UTC, and still belongs to this one.</param>
    /// <param name="zone">The place's time zone.</param>
    /// <param name="latitudeDeg">WGS 84 latitude [°], north positive.</param>
    /// <param name="longitudeDeg">WGS 84 longitude [°], east positive.</param>
    /// <remarks>NOAA's formulae with the declination taken again at the event: within about 5 s of the precise algorithm up to 49° latitude.</remarks>
    public static SunDay Of(DateOnly date, TimeZoneInfo zone, double latitudeDeg, double longitudeDeg)
    {
        DateTimeOffset noon = LocalCalendar.StartOf(date, zone).AddHours(12);
        for (int pass = 0; pass < Passes; pass++)
        {
            noon = noon.AddMinutes(-4 * HourAngleDeg(noon, longitudeDeg));
        }

        return new SunDay(Event(noon, latitudeDeg, longitudeDeg, -1), noon, Event(noon, latitudeDeg, longitudeDeg, 1));
    }

    private static DateTimeOffset? Event(DateTimeOffset noon, double latitudeDeg, double longitudeDeg, int side)
    {
        DateTimeOffset at = noon;
        for (int pass = 0; pass < Passes; pass++)
        {
            if (HalfDayDeg(at, latitudeDeg) is not { } halfDay)
            {
                return null;
            }

            at = at.AddMinutes(4 * ((side * halfDay) - HourAngleDeg(at, longitudeDeg)));
        }

        return at;
    }

    // How far the sun turns between noon and horizon, with the declination of an instant; null where it does not reach it.
    private static double? HalfDayDeg(DateTimeOffset at, double latitudeDeg)
    {
        double declination = double.DegreesToRadians(SunPosition.Course(at).DeclinationDeg);
        double latitude = double.DegreesToRadians(latitudeDeg);
        double cos = (Math.Cos(double.DegreesToRadians(HorizonZenithDeg)) / (Math.Cos(latitude) * Math.Cos(declination)))
            - (Math.Tan(latitude) * Math.Tan(declination));
        return Math.Abs(cos) <= 1 ? double.RadiansToDegrees(Math.Acos(cos)) : null;
    }

    private static double HourAngleDeg(DateTimeOffset at, double longitudeDeg)
    {
        double trueSolarMinutes = at.UtcDateTime.TimeOfDay.TotalMinutes + SunPosition.Course(at).EquationMinutes + (4 * longitudeDeg);
        double angle = (trueSolarMinutes / 4) - 180;
        return angle - (360 * Math.Round(angle / 360));
    }
}
