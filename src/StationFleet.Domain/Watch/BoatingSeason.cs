namespace StationFleet.Domain.Watch;

/// <summary>How a year's seasons bring boats, before anything is known of a station: it learns the level, and this tells where the level is going.</summary>
/// <remarks>
/// exp(0.7 · s · cos(2π (n − 205) / 365.25)) with n the day of the year and s = latitude / 45°, at most 1: from 45° on midsummer's boats
/// are four times midwinter's, three weeks after the longest day, when the water is warmest; the south has it the other way round and the equator
/// no season. Common practice, no source; half of the weight of what is learned lies about two weeks back, when in spring a fifth fewer boats came.
/// </remarks>
public static class BoatingSeason
{
    private const double Swing = 0.7;
    private const double FullSwingDeg = 45;
    private const double Peak = 205;
    private const double DaysOfYear = 365.25;

    /// <summary>How many times the boats of a mean day a day brings, by its season.</summary>
    /// <param name="day">The local day.</param>
    /// <param name="latitudeDeg">WGS 84 latitude of the access [°]; null: not known, and so no season.</param>
    public static double Factor(DateOnly day, double? latitudeDeg) => latitudeDeg is not { } latitude
        ? 1
        : Math.Exp(Swing * Math.Clamp(latitude / FullSwingDeg, -1, 1) * Math.Cos(2 * Math.PI * (day.DayOfYear - Peak) / DaysOfYear));
}
