using System.Net;
using System.Text;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service;

/// <summary>What a mail about a ticket tells.</summary>
/// <param name="Number">The ticket's number.</param>
/// <param name="Station">The station's code.</param>
/// <param name="Place">Where it stands, such as «Dam Road access, Copperline Reservoir»; null in transit.</param>
/// <param name="Rule">The rule.</param>
/// <param name="Evidence">The numbers.</param>
/// <param name="At">When the ticket was raised or reopened.</param>
/// <param name="IsReopened">Whether the ticket came back after it had been closed.</param>
/// <param name="TicketUrl">The address of the ticket's page.</param>
/// <param name="Organization">Who writes.</param>
/// <param name="IsInvented">Whether the data are invented: the mail then says so.</param>
public sealed record TicketMailInput(
    int Number,
    string Station,
    string? Place,
    Rule Rule,
    Evidence Evidence,
    DateTimeOffset At,
    bool IsReopened,
    string TicketUrl,
    string Organization,
    bool IsInvented);

/// <summary>A mail in words.</summary>
/// <param name="Subject">The subject line.</param>
/// <param name="Text">The plain part.</param>
/// <param name="Html">The HTML part; says the same.</param>
public sealed record MailText(string Subject, string Text, string Html);

/// <summary>Writes the mail that tells people of a raised or reopened ticket.</summary>
public static class TicketMail
{
    private const string InventedData = "Invented data: this mail comes from a demonstration.";

    /// <summary>Puts a ticket into words.</summary>
    /// <param name="input">What the mail tells.</param>
    /// <param name="reader">For whom.</param>
    public static MailText Write(TicketMailInput input, Reader reader)
    {
        ArgumentNullException.ThrowIfNull(input);
        string title = ProblemSentences.Title(input.Evidence);
        string sentence = ProblemSentences.Sentence(input.Evidence, Urgency.NeedsVisit, reader);
        string where = input.Place is null ? input.Station : $"{input.Station} · {input.Place}";
        string since = $"Ticket T-{input.Number}, {(input.IsReopened ? "reopened" : "raised")} {TimeWords.When(input.At, reader.Now, reader.Zone)}.";
        string? again = input.IsReopened ? "The problem was still there a day after the ticket was closed." : null;
        IReadOnlyList<string> cautions = Cautions.For(input.Rule);
        IReadOnlyList<string> steps = Checklists.For(input.Rule);
        return new MailText(
            Subject(input.Number, input.Station, input.Evidence, input.IsReopened),
            PlainPart(),
            HtmlPart());

        string PlainPart()
        {
            StringBuilder text = new();
            Line(input.IsInvented ? $"{InventedData}\n" : null);
            Line($"{where}\n{title}\n\n{sentence}");
            Line(again);
            Line(since);
            Line($"\nBefore you start:\n{string.Join('\n', cautions.Select(caution => $"- {caution}"))}\n{Cautions.Deference}");
            Line($"\nDo:\n{string.Join('\n', steps.Select((step, i) => $"{i + 1}. {step}"))}");
            Line($"\nTake or close the ticket: {input.TicketUrl}\n\n{input.Organization}");
            return text.ToString();

            void Line(string? line)
            {
                if (line is not null)
                {
                    text.Append(line).Append('\n');
                }
            }
        }

        // One column that fits a phone; colours as in the pages' light look; no picture, no outside address.
        string HtmlPart() => $"""
            <!doctype html>
            <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>{Safe(title)}</title></head>
            <body style="margin:0;background:#f7f5ef;color:#1d2a26;font:16px/1.5 system-ui,'Noto Sans','DejaVu Sans',sans-serif">
            <div style="max-width:560px;margin:0 auto;padding:20px 16px">
            {(input.IsInvented ? $"<p style=\"margin:0 0 12px;color:#3f4b46;font-size:14px\">{InventedData}</p>" : "")}
            <p style="margin:0;color:#3f4b46;font-size:14px">{Safe(where)}</p>
            <h1 style="margin:4px 0 8px;font-size:24px;line-height:1.25">{Safe(title)}</h1>
            <p style="margin:0 0 8px;font-size:18px">{Safe(sentence)}</p>
            {(again is null ? "" : $"<p style=\"margin:0 0 8px\">{again}</p>")}
            <p style="margin:0 0 16px;color:#3f4b46;font-size:14px">{Safe(since)}</p>
            <p style="margin:0 0 20px"><a href="{Safe(input.TicketUrl)}" style="display:inline-block;padding:12px 20px;background:#1f4d3f;color:#fffdf8;text-decoration:none;border-radius:6px">Open the ticket</a></p>
            <div style="padding:12px 16px;background:#f8e6df;border-left:4px solid #a8361b"><b>Before you start</b>
            <ul style="margin:8px 0;padding-left:20px">{List(cautions)}</ul>
            <span style="font-size:13px">{Safe(Cautions.Deference)}</span></div>
            <h2 style="margin:20px 0 4px;font-size:17px">Do</h2>
            <ol style="margin:0;padding-left:22px">{List(steps)}</ol>
            <p style="margin:24px 0 0;padding-top:12px;border-top:1px solid #d9d5c8;color:#3f4b46;font-size:14px">{Safe(input.Organization)}</p>
            </div></body></html>
            """;
    }

    /// <summary>The subject line.</summary>
    /// <param name="number">The ticket's number.</param>
    /// <param name="station">The station's code.</param>
    /// <param name="evidence">The numbers.</param>
    /// <param name="isReopened">Whether the ticket came back after it had been closed.</param>
    public static string Subject(int number, string station, Evidence evidence, bool isReopened) =>
        OneLine($"{station}: {ProblemSentences.Title(evidence)} (T-{number}{(isReopened ? ", reopened" : "")})");

    // A line break in a typed name must not end the subject's header.
    private static string OneLine(string text) => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));

    private static string List(IEnumerable<string> items) => string.Concat(items.Select(item => $"<li>{Safe(item)}</li>"));

    private static string Safe(string text) => WebUtility.HtmlEncode(text);
}
