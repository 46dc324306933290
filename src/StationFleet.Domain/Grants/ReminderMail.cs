using StationFleet.Domain.Mail;

namespace StationFleet.Domain.Grants;

/// <summary>Writes the mail that reminds of a report.</summary>
public static class ReminderMail
{
    /// <summary>Puts a reminder into words.</summary>
    /// <param name="reminder">Of what.</param>
    /// <param name="today">The local day.</param>
    /// <param name="url">The address of the award's page.</param>
    /// <param name="voice">Who writes.</param>
    public static MailText Write(Reminder reminder, DateOnly today, string url, MailVoice voice)
    {
        ArgumentNullException.ThrowIfNull(reminder);
        DueDate report = reminder.Report;
        string due = GrantWords.Due(report.Due, today);
        return new MailWriter(voice)
            .Lead($"{report.What} of {report.Number} {due}.")
            .Paragraph("Its indicators, match and season figures stand on the award's page. Write there when it is handed in: then this reminder stops.")
            .Paragraph(GrantWords.TermsPrevail)
            .Button($"Open {report.Number}", url)
            .End($"{report.Number}: {report.What} {due}");
    }
}
