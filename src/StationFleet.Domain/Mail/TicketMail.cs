using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Mail;

/// <summary>Writes the mail that calls a person to tickets: to one, to several at one station, or to a flood of them.</summary>
public static class TicketMail
{
    /// <summary>More new tickets than this for one person at one time go out as one mail (common practice for alarm floods, no source).</summary>
    public const int MostByStation = 5;

    /// <summary>Tickets as they go out: one group for each mail.</summary>
    /// <param name="tickets">All that one person is told of at one time.</param>
    /// <returns>One group for each station; a single one when there are more than <see cref="MostByStation"/> tickets.</returns>
    public static IReadOnlyList<IReadOnlyList<CalledTicket>> Mails(IReadOnlyCollection<CalledTicket> tickets)
    {
        ArgumentNullException.ThrowIfNull(tickets);
        CalledTicket[] inOrder = [.. tickets.OrderBy(ticket => ticket.Station, StringComparer.Ordinal).ThenBy(ticket => ticket.Number)];
        return inOrder.Length > MostByStation ? [inOrder] : [.. inOrder.GroupBy(ticket => ticket.Station).Select(stop => stop.ToArray())];
    }

    /// <summary>Puts one mail into words.</summary>
    /// <param name="tickets">One group of <see cref="Mails"/>.</param>
    /// <param name="voice">Who writes.</param>
    /// <param name="units">The reader's units.</param>
    /// <param name="now">The present instant.</param>
    public static MailText Write(IReadOnlyList<CalledTicket> tickets, MailVoice voice, UnitSystem units, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(tickets);
        ArgumentNullException.ThrowIfNull(voice);
        MailWriter mail = new(voice);
        if (tickets.Count == 1)
        {
            One(mail, tickets[0], voice, new Reader(units, tickets[0].Zone, now));
        }
        else if (tickets.Count <= MostByStation)
        {
            Stop(mail, tickets, units, now);
        }
        else
        {
            Flood(mail, tickets, units, now);
        }

        if (tickets.Count > 1 && voice.ReadsReplies)
        {
            mail.Paragraph($"\nAnswer this mail with the word taken to take them all, or taken T-{tickets[0].Number} for some. Anything else is kept as a note.");
        }

        return mail.End(Subject(tickets));
    }

    /// <summary>The subject line.</summary>
    /// <param name="tickets">What the mail is about.</param>
    public static string Subject(IReadOnlyList<CalledTicket> tickets)
    {
        ArgumentNullException.ThrowIfNull(tickets);
        CalledTicket first = tickets[0];
        string numbers = string.Join(", ", tickets.Select(ticket => $"T-{ticket.Number}"));
        return MailWriter.OneLine(tickets.Count switch
        {
            1 => Subject(first.Number, first.Station, first.Evidence, isReopened: false),
            <= MostByStation => $"{first.Station}: {NumberWords.Count(tickets.Count)} problems, one stop ({numbers})",
            _ => FloodTitle(tickets),
        });
    }

    /// <summary>The subject line of a mail about one ticket.</summary>
    /// <param name="number">The ticket's number.</param>
    /// <param name="station">The station's code.</param>
    /// <param name="evidence">The numbers.</param>
    /// <param name="isReopened">Whether the ticket came back: the mail then stands in the thread of the first one, under its subject.</param>
    public static string Subject(int number, string station, Evidence evidence, bool isReopened) =>
        MailWriter.OneLine($"{(isReopened ? "Re: " : "")}{station}: {ProblemSentences.Title(evidence)} (T-{number})");

    private static void One(MailWriter mail, CalledTicket ticket, MailVoice voice, Reader reader)
    {
        mail.Small(Where(ticket))
            .Title(ProblemSentences.Title(ticket.Evidence))
            .Lead(Sentence(ticket, reader))
            .Paragraph(Why(ticket))
            .Small(Since(ticket, reader.Now))
            .Button("Take or close the ticket", ticket.Url);
        if (voice.ReadsReplies)
        {
            mail.Paragraph("Or answer this mail with the word taken: it is yours then. Anything else is kept as a note.");
        }

        mail.Cautions(ticket.Guidance.CautionsFor(ticket.Rule), Cautions.Deference).Heading("Do:").Steps(ticket.Guidance.StepsFor(ticket.Rule));
    }

    private static void Stop(MailWriter mail, IReadOnlyList<CalledTicket> tickets, UnitSystem units, DateTimeOffset now)
    {
        mail.Small(Where(tickets[0])).Title(NumberWords.Capital($"{NumberWords.Count(tickets.Count)} problems, one stop"));
        foreach (CalledTicket ticket in tickets)
        {
            Reader reader = new(units, ticket.Zone, now);
            mail.Heading(ProblemSentences.Title(ticket.Evidence))
                .Paragraph(Sentence(ticket, reader))
                .Paragraph(Why(ticket))
                .Small(Since(ticket, now))
                .Link($"Take or close T-{ticket.Number}", ticket.Url)
                .Steps(ticket.Guidance.StepsFor(ticket.Rule));
        }

        mail.Cautions(tickets.SelectMany(ticket => ticket.Guidance.CautionsFor(ticket.Rule)).Distinct(), Cautions.Deference);
    }

    private static void Flood(MailWriter mail, IReadOnlyList<CalledTicket> tickets, UnitSystem units, DateTimeOffset now)
    {
        mail.Title(FloodTitle(tickets))
            .Paragraph("So many at once often have one cause, such as weather or the radio network. Look at it before anybody drives; the cautions and steps are on each ticket’s page.");
        foreach (IGrouping<string, CalledTicket> stop in tickets.GroupBy(ticket => ticket.Station))
        {
            mail.Heading(Where(stop.First())).Names(stop.Select(ticket => (
                $"T-{ticket.Number} {ProblemSentences.Title(ticket.Evidence)}",
                string.Join(' ', new[] { Sentence(ticket, new Reader(units, ticket.Zone, now)), Why(ticket) }.OfType<string>()),
                (string?)ticket.Url)));
        }
    }

    private static string FloodTitle(IReadOnlyList<CalledTicket> tickets)
    {
        int stations = tickets.DistinctBy(ticket => ticket.Station).Count();
        return NumberWords.Capital(
            $"{NumberWords.Count(tickets.Count)} tickets at {(stations == 1 ? "one station" : $"{NumberWords.Count(stations)} stations")} (T-{tickets.Min(t => t.Number)} to T-{tickets.Max(t => t.Number)})");
    }

    private static string Where(CalledTicket ticket) => ticket.Place is null ? ticket.Station : $"{ticket.Station} · {ticket.Place}";

    private static string Sentence(CalledTicket ticket, Reader reader) => ProblemSentences.Sentence(ticket.Evidence, Urgency.NeedsVisit, reader);

    private static string Since(CalledTicket ticket, DateTimeOffset now) =>
        $"Ticket T-{ticket.Number}, {(ticket.Reason == CallReason.Reopened ? "reopened" : "raised")} {TimeWords.When(ticket.At, now, ticket.Zone)}.";

    private static string? Why(CalledTicket ticket) => ticket switch
    {
        { Reason: CallReason.Reopened } => "The problem was still there a day after the ticket was closed.",
        { Reason: CallReason.NotTaken, ToldBefore: { } who } => $"Nobody has taken this ticket; {who} was told first.",
        { Reason: CallReason.NotTaken } => "Nobody has taken this ticket.",
        _ => null,
    };
}
