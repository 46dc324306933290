using System.Globalization;

namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>The zone of a logger's clock: a zone of the IANA database, or an offset that never changes.</summary>
public static class LoggerZone
{
    private static readonly TimeSpan Largest = TimeSpan.FromHours(14);

    /// <summary>Finds a zone.</summary>
    /// <param name="text">An IANA name such as <c>America/Boise</c>, <c>UTC</c>, or an offset such as <c>-07:00</c>.</param>
    /// <returns>The zone; null when the text is neither.</returns>
    public static TimeZoneInfo? Find(string? text)
    {
        string name = text?.Trim() ?? "";
        if (name.Length > 0 && name[0] is '+' or '-' or '−')
        {
            return TimeSpan.TryParseExact(name[1..], ["hh\\:mm", "h\\:mm", "hhmm", "hh", "%h"], CultureInfo.InvariantCulture, out TimeSpan size) && size <= Largest
                ? TimeZoneInfo.CreateCustomTimeZone(name, name[0] == '+' ? size : -size, name, name)
                : null;
        }

        return name.Length > 0 && TimeZoneInfo.TryFindSystemTimeZoneById(name, out TimeZoneInfo? zone) ? zone : null;
    }
}
