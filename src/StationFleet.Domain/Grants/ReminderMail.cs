using System.Net;
using StationFleet.Domain.Service;

namespace StationFleet.Domain.Grants;

/// <summary>Writes the mail that reminds of a report.</summary>
public static class ReminderMail
{
    /// <summary>Puts a reminder into words.</summary>
    /// <param name="reminder">Of what.</param>
    /// <param name="today">The local day.</param>
    /// <param name="url">The address of the award's page.</param>
    /// <param name="organization">Who writes.</param>
    /// <param name="isInvented">The data are invented: the mail says so.</param>
    public static MailText Write(Reminder reminder, DateOnly today, string url, string organization, bool isInvented)
    {
        ArgumentNullException.ThrowIfNull(reminder);
        DueDate report = reminder.Report;
        string sentence = $"{report.What} of {report.Number} {GrantWords.Due(report.Due, today)}.";
        string[] lines =
        [
            sentence,
            "Its indicators, match and season figures stand on the award's page. Write there when it is handed in: then this reminder stops.",
            GrantWords.TermsPrevail,
        ];
        string invented = isInvented ? "Invented data: this mail comes from a demonstration." : "";
        string text = string.Join("\n\n", [.. lines, url, organization, .. invented.Length > 0 ? [invented] : Array.Empty<string>()]) + "\n";
        string html = "<!DOCTYPE html><html lang=\"en\"><body style=\"font-family:sans-serif\">"
            + string.Concat(lines.Select(line => $"<p>{WebUtility.HtmlEncode(line)}</p>"))
            + $"<p><a href=\"{WebUtility.HtmlEncode(url)}\">{WebUtility.HtmlEncode(report.Number)}</a></p><p>{WebUtility.HtmlEncode(organization)}</p>"
            + (invented.Length > 0 ? $"<p>{invented}</p>" : "") + "</body></html>";
        return new MailText($"{report.Number}: {report.What} {GrantWords.Due(report.Due, today)}", text, html);
    }
}
