using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Mail;

/// <summary>The page Today, for a mail.</summary>
/// <param name="Day">The day, such as «Wednesday 8 July».</param>
/// <param name="Headline">The page's first sentence.</param>
/// <param name="Needs">Tickets that somebody has to drive for: station, sentence, the ticket's address.</param>
/// <param name="Coming">Problems that are coming: station, sentence.</param>
/// <param name="OnDuty">Who is on duty today; null: nobody is on the roster.</param>
/// <param name="Url">The address of the page Today.</param>
/// <param name="StopUrl">Where the reader can end these mails.</param>
public sealed record DigestInput(
    string Day,
    string Headline,
    IReadOnlyList<(string Station, string Sentence, string? Url)> Needs,
    IReadOnlyList<(string Station, string Sentence)> Coming,
    string? OnDuty,
    string Url,
    string StopUrl);

/// <summary>The past and the coming week, for the supervisor.</summary>
/// <param name="Raised">Tickets raised within the last seven days.</param>
/// <param name="Closed">Tickets closed within them.</param>
/// <param name="Days">Dates within the coming week, in order: the day, and what is then.</param>
/// <param name="Pumped">What was pumped out within the last seven days, in words; null when nothing was.</param>
public sealed record WeekFigures(int Raised, int Closed, IReadOnlyList<(string Day, string What)> Days, string? Pumped);

/// <summary>Writes the mails that come by the calendar: every morning, and once a week.</summary>
public static class DigestMail
{
    // With headline, headings and links the morning mail stays within some ten lines.
    private const int MostNeeds = 5;
    private const int MostComing = 3;

    /// <summary>The morning mail: the page Today in ten lines.</summary>
    /// <param name="today">The page.</param>
    /// <param name="voice">Who writes.</param>
    public static MailText Morning(DigestInput today, MailVoice voice)
    {
        ArgumentNullException.ThrowIfNull(today);
        MailWriter mail = new MailWriter(voice).Small(today.Day).Title(today.Headline);
        Needs(mail, today, MostNeeds);
        Coming(mail, today, MostComing);
        return End(mail, today, "End the morning mail", $"{today.Day}: {Plain(today)}");
    }

    /// <summary>The weekly mail: the same page in full, what the week brought, and what is due.</summary>
    /// <param name="today">The page.</param>
    /// <param name="week">The week's figures.</param>
    /// <param name="voice">Who writes.</param>
    public static MailText Weekly(DigestInput today, WeekFigures week, MailVoice voice)
    {
        ArgumentNullException.ThrowIfNull(today);
        ArgumentNullException.ThrowIfNull(week);
        MailWriter mail = new MailWriter(voice).Small($"The week of {today.Day}").Title(today.Headline)
            .Paragraph(NumberWords.Capital(
                $"{NumberWords.Count(week.Raised)} {(week.Raised == 1 ? "ticket was" : "tickets were")} raised in the last seven days, {(week.Closed == 0 ? "none" : NumberWords.Count(week.Closed))} {(week.Closed == 1 ? "was" : "were")} closed."))
            .Paragraph(week.Pumped);
        Needs(mail, today, int.MaxValue);
        Coming(mail, today, int.MaxValue);
        if (week.Days.Count > 0)
        {
            mail.Heading("Dates of the coming week").Names(week.Days.Select(date => (date.Day, date.What, (string?)null)));
        }

        return End(mail, today, "End the weekly mail", $"The week of {today.Day}: {Plain(today)}");
    }

    private static void Needs(MailWriter mail, DigestInput today, int most)
    {
        mail.Heading("Needs a visit");
        if (today.Needs.Count == 0)
        {
            mail.Paragraph("Nobody has to drive.");
        }

        mail.Names(today.Needs.Take(most));
        More(mail, today.Needs.Count - most);
    }

    private static void Coming(MailWriter mail, DigestInput today, int most)
    {
        if (today.Coming.Count > 0)
        {
            mail.Heading("Coming up").Names(today.Coming.Take(most).Select(coming => (coming.Station, coming.Sentence, (string?)null)));
            More(mail, today.Coming.Count - most);
        }
    }

    private static void More(MailWriter mail, int more)
    {
        if (more > 0)
        {
            mail.Paragraph($"And {NumberWords.Count(more)} more on the page Today.");
        }
    }

    private static MailText End(MailWriter mail, DigestInput today, string stop, string subject)
    {
        mail.Paragraph(today.OnDuty is { } who ? $"\nOn duty: {who}." : "\nNobody is on the roster today.");
        return mail.Button("Open Today", today.Url).Link(stop, today.StopUrl).End(subject);
    }

    private static string Plain(DigestInput today) => today.Needs.Count switch
    {
        0 => "nobody has to drive",
        1 => "one ticket",
        var count => $"{NumberWords.Count(count)} tickets",
    };
}
