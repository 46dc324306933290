using StationFleet.Domain.Mail;
using StationFleet.Domain.Time;
using StationFleet.Web.Service;

namespace StationFleet.Web.Mail.Replies;

/// <summary>What is answered to a person who wanted to take tickets by mail.</summary>
internal static class TakeAnswer
{
    /// <summary>What came of one ticket.</summary>
    /// <param name="Number">The ticket.</param>
    /// <param name="Answer">What came of it.</param>
    /// <param name="Zone">The access's time zone.</param>
    /// <param name="Url">The address of its page.</param>
    internal sealed record Line(int Number, TicketAnswer Answer, TimeZoneInfo Zone, string Url)
    {
        public bool IsTaken => Answer is TicketAnswer.Done or TicketAnswer.AlreadyDone;
    }

    public static MailText Write(IReadOnlyList<Line> lines, string subject, bool hasNote, MailVoice voice, DateTimeOffset now)
    {
        MailWriter mail = new MailWriter(voice)
            .Title(lines.All(line => line.IsTaken) ? "Taken." : lines.Any(line => line.IsTaken) ? "Taken in part." : "Not taken.")
            .Names(lines.Select(line => ($"T-{line.Number}", Sentence(line, now), (string?)line.Url)))
            .Paragraph(hasNote ? "\nWhat you wrote is kept as a note." : null);
        return mail.Small("Closing needs the checklist: close it on the ticket’s page.").End(Outbox.Reply(subject));
    }

    private static string Sentence(Line line, DateTimeOffset now) => line.Answer switch
    {
        TicketAnswer.Done => "is yours now.",
        TicketAnswer.AlreadyDone => "was yours already.",
        TicketAnswer.Changed changed => string.Join(' ', changed.Meanwhile.Select(happening =>
            $"{happening.Who ?? "The watch"} {TicketWords.Verb(happening.Kind)} {TimeWords.When(happening.At, now, line.Zone)}.")) + " It stays so.",
        TicketAnswer.Wrong wrong => string.Join(' ', wrong.Errors.Values),
        TicketAnswer.NotAllowed => "Your role only reads tickets.",
        _ => "There is no such ticket in the mail that you answered.",
    };
}
