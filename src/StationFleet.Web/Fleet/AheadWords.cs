using StationFleet.Domain.Power;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Web.Fleet;

/// <summary>Forecasts in a few words, for tables and lanes.</summary>
internal static class AheadWords
{
    private static readonly TimeSpan Named = TimeSpan.FromDays(10);

    /// <summary>When the tank is full: «full by Thu», «Sun to Wed», «more than 10 days»; null when that is not known.</summary>
    public static string? Tank(StationAhead ahead, DateTimeOffset now, TimeZoneInfo zone) => ahead switch
    {
        { IsTankKnown: false } => null,
        { TankShare: >= 1 } => "full",
        { TankFull: { Likeliest: { } likeliest } full } when likeliest - now <= Named => Days(full, now, zone),
        _ => "more than 10 days",
    };

    /// <summary>The days between which something is expected.</summary>
    public static string Days(ForecastWindow window, DateTimeOffset now, TimeZoneInfo zone)
    {
        string early = Short(window.Early, now, zone);
        string? late = window.Late is { } known && known - now <= Named ? Short(known, now, zone) : null;
        return late switch
        {
            null => $"{early} or later",
            _ when late == early => $"full by {early}",
            _ => $"{early} to {late}",
        };
    }

    /// <summary>What the charge will do: «charge under 50 %, possible».</summary>
    public static string Charge(ChargeForecast charge) => $"charge under {NumberWords.Percent(charge.LimitShare)}, {charge.InWords}";

    private static string Short(DateTimeOffset instant, DateTimeOffset now, TimeZoneInfo zone)
    {
        DateTimeOffset local = TimeZoneInfo.ConvertTime(instant, zone);
        int days = DateOnly.FromDateTime(local.DateTime).DayNumber - LocalCalendar.DateOf(now, zone).DayNumber;
        return days switch
        {
            <= 0 => "today",
            <= 6 => local.ToString("ddd", System.Globalization.CultureInfo.InvariantCulture),
            _ => local.ToString("d MMM", System.Globalization.CultureInfo.InvariantCulture),
        };
    }
}
