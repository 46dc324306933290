using System.Globalization;
using System.Text;

namespace StationFleet.Domain.Service.Routes;

/// <summary>A day on the road as iCalendar (RFC 5545): one event for each stop, in UTC.</summary>
/// <param name="Plan">The day.</param>
/// <param name="Day">Its local date.</param>
/// <param name="Person">Whose day it is: part of each event's identity, so that the same stop planned anew replaces the old.</param>
/// <param name="Organization">Who runs the fleet.</param>
/// <param name="Host">The right-hand side of the events' identities.</param>
/// <param name="Made">When it was made.</param>
/// <param name="IsInvented">Whether the data are invented: each event then says so.</param>
public sealed record RouteCalendar(
    RoutePlan Plan, DateOnly Day, string Person, string Organization, string Host, DateTimeOffset Made, bool IsInvented)
{
    /// <summary>What HTTP calls it.</summary>
    public const string ContentType = "text/calendar; charset=utf-8; method=PUBLISH";

    private const int MostOctets = 75;

    /// <summary>The text, with lines of at most 75 octets.</summary>
    public string Write()
    {
        StringBuilder text = new();
        Line("BEGIN:VCALENDAR");
        Line("VERSION:2.0");
        Line("PRODID:-//StationFleet//Route//EN");
        Line("METHOD:PUBLISH");
        foreach (RoutedStop routed in Plan.Stops)
        {
            RouteStop stop = routed.Stop;
            Line("BEGIN:VEVENT");
            Line(FormattableString.Invariant($"UID:route-{Day:yyyyMMdd}-{stop.Place.Key.Replace('/', '-')}-{Person}@{Host}"));
            Line($"DTSTAMP:{Utc(Made)}");
            Line($"DTSTART:{Utc(routed.Begins)}");
            Line($"DTEND:{Utc(routed.Leaves)}");
            Line($"SUMMARY:{Safe($"{string.Join(", ", stop.Stations)} · {stop.Place.Name}")}");
            Line($"LOCATION:{Safe(stop.Place.Name)}");
            Line(FormattableString.Invariant($"GEO:{stop.Place.LatitudeDeg:0.000000};{stop.Place.LongitudeDeg:0.000000}"));
            Line($"DESCRIPTION:{Safe(Description(stop))}");
            Line("END:VEVENT");
        }

        Line("END:VCALENDAR");
        return text.ToString();

        void Line(string content) => text.Append(Folded(content)).Append("\r\n");
    }

    private string Description(RouteStop stop) => string.Join('\n', [
        .. stop.Needs.Select(need => $"{need.Station}{(need.Ticket is { } number ? $", T-{number}" : "")}: {need.Reason}"),
        .. stop.Bring.Count > 0 ? [$"Bring: {string.Join(", ", stop.Bring)}"] : (string[])[],
        .. stop.Cautions.Select(caution => $"Caution: {caution}"),
        Organization,
        .. IsInvented ? ["Invented data."] : (string[])[],
    ]);

    private static string Utc(DateTimeOffset at) => at.UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);

    // RFC 5545, 3.3.11.
    private static string Safe(string text) => text
        .Replace("\\", "\\\\", StringComparison.Ordinal).Replace(";", "\\;", StringComparison.Ordinal)
        .Replace(",", "\\,", StringComparison.Ordinal).ReplaceLineEndings("\\n");

    // RFC 5545, 3.1: octets count, and no character may be cut in two.
    private static string Folded(string line)
    {
        StringBuilder folded = new();
        int octets = 0;
        foreach (Rune rune in line.EnumerateRunes())
        {
            if (octets + rune.Utf8SequenceLength > MostOctets)
            {
                folded.Append("\r\n ");
                octets = 1;
            }

            folded.Append(rune.ToString());
            octets += rune.Utf8SequenceLength;
        }

        return folded.ToString();
    }
}
