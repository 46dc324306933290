using System.Globalization;

namespace StationFleet.Web.Platform;

/// <summary>Instants as people at an access read and write them.</summary>
internal static class LocalTimes
{
    /// <summary>«Wed 8 Jul 2026, 07:05».</summary>
    public static string Say(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("ddd d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);

    /// <summary>«8 Jul 2026».</summary>
    public static string SayDay(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>The form that a browser's date field reads and writes, to the minute.</summary>
    public static string ForField(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);
}
