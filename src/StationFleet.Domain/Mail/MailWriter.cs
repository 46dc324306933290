using System.Globalization;
using System.Net;
using System.Text;

namespace StationFleet.Domain.Mail;

/// <summary>A mail in words.</summary>
/// <param name="Subject">The subject line.</param>
/// <param name="Text">The plain part.</param>
/// <param name="Html">The HTML part; says the same.</param>
public sealed record MailText(string Subject, string Text, string Html);

/// <summary>Who writes, and how: the same for every mail of an installation.</summary>
/// <param name="Organization">Who writes.</param>
/// <param name="IsInvented">Whether the data are invented: each mail then says so.</param>
/// <param name="ReadsReplies">Whether answers are read: a mail about tickets then says what they do.</param>
public sealed record MailVoice(string Organization, bool IsInvented, bool ReadsReplies);

/// <summary>
/// Writes both parts of a mail at once, piece by piece, so that they say the same. The HTML is one column that fits a phone, in the
/// colours of the pages' two looks; no picture, no outside address but links.
/// </summary>
public sealed class MailWriter
{
    private const string InventedData = "Invented data: this mail comes from a demonstration.";

    // Programs that know only inline styles show the light look; those that know more can turn it dark.
    private const string Dark = """
        <meta name="color-scheme" content="light dark"><style>@media (prefers-color-scheme:dark){
        .b{background:#121917!important;color:#e7ece8!important}.m{color:#a6b3ad!important}.k{background:#3a211a!important;border-color:#f29277!important}
        .g{background:#8cc9b0!important;color:#121917!important}.a{color:#8cc9b0!important}.r{border-color:#33403b!important}}</style>
        """;

    private readonly StringBuilder _text = new();
    private readonly StringBuilder _html = new();
    private readonly MailVoice _voice;

    /// <summary>Begins a mail.</summary>
    /// <param name="voice">Who writes.</param>
    public MailWriter(MailVoice voice)
    {
        ArgumentNullException.ThrowIfNull(voice);
        _voice = voice;
        if (voice.IsInvented)
        {
            Small(InventedData);
            _text.Append('\n');
        }
    }

    /// <summary>A small line, such as where or since when.</summary>
    /// <param name="line">The line.</param>
    public MailWriter Small(string line) => Add(line, $"<p class=\"m\" style=\"margin:0 0 8px;color:#3f4b46;font-size:14px\">{Safe(line)}</p>");

    /// <summary>What the mail is about.</summary>
    /// <param name="line">One line.</param>
    public MailWriter Title(string line) => Add($"{line}\n", $"<h1 style=\"margin:4px 0 8px;font-size:24px;line-height:1.25\">{Safe(line)}</h1>");

    /// <summary>The sentence to read if only one is.</summary>
    /// <param name="sentence">The sentence.</param>
    public MailWriter Lead(string sentence) => Add(sentence, $"<p style=\"margin:0 0 8px;font-size:18px\">{Safe(sentence)}</p>");

    /// <summary>A paragraph.</summary>
    /// <param name="sentences">Its sentences; nothing is written for null.</param>
    public MailWriter Paragraph(string? sentences) =>
        sentences is null ? this : Add(sentences, $"<p style=\"margin:0 0 8px\">{Safe(sentences)}</p>");

    /// <summary>A heading within the mail.</summary>
    /// <param name="line">The heading.</param>
    public MailWriter Heading(string line) => Add($"\n{line}", $"<h2 style=\"margin:20px 0 4px;font-size:17px\">{Safe(line)}</h2>");

    /// <summary>A link that reads as a button.</summary>
    /// <param name="words">What it does; the text part has the address after it.</param>
    /// <param name="url">The address.</param>
    public MailWriter Button(string words, string url) => Add(
        $"\n{words}: {url}",
        $"<p style=\"margin:16px 0\"><a class=\"g\" href=\"{Safe(url)}\" style=\"display:inline-block;padding:12px 20px;background:#1f4d3f;color:#fffdf8;text-decoration:none;border-radius:6px\">{Safe(words)}</a></p>");

    /// <summary>A small link, such as the one that ends a digest.</summary>
    /// <param name="words">What it does.</param>
    /// <param name="url">The address.</param>
    public MailWriter Link(string words, string url) => Add(
        $"{words}: {url}", $"<p style=\"margin:8px 0;font-size:14px\"><a class=\"a\" href=\"{Safe(url)}\" style=\"color:#1f4d3f\">{Safe(words)}</a></p>");

    /// <summary>What a person must not get hurt by.</summary>
    /// <param name="cautions">One line each.</param>
    /// <param name="deference">Whose rules come first.</param>
    public MailWriter Cautions(IEnumerable<string> cautions, string deference)
    {
        string[] lines = [.. cautions];
        return Add(
            $"\nBefore you start:\n{string.Join('\n', lines.Select(line => $"- {line}"))}\n{deference}",
            $"""
            <div class="k" style="margin:12px 0;padding:12px 16px;background:#f8e6df;border-left:4px solid #a8361b"><b>Before you start</b>
            <ul style="margin:8px 0;padding-left:20px">{Items(lines)}</ul><span style="font-size:13px">{Safe(deference)}</span></div>
            """);
    }

    /// <summary>Steps in their order.</summary>
    /// <param name="steps">One line each.</param>
    public MailWriter Steps(IEnumerable<string> steps)
    {
        string[] lines = [.. steps];
        return Add(
            string.Join('\n', lines.Select((line, i) => string.Create(CultureInfo.InvariantCulture, $"{i + 1}. {line}"))),
            $"<ol style=\"margin:0;padding-left:22px\">{Items(lines)}</ol>");
    }

    /// <summary>A list whose lines begin with a name in bold.</summary>
    /// <param name="lines">Name, sentence, and the page that tells more; null for none.</param>
    public MailWriter Names(IEnumerable<(string Name, string Sentence, string? Url)> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        foreach ((string name, string sentence, string? url) in lines)
        {
            string bold = url is null
                ? $"<b>{Safe(name)}</b>"
                : $"<a class=\"a\" href=\"{Safe(url)}\" style=\"color:#1f4d3f;font-weight:bold\">{Safe(name)}</a>";
            Add($"- {name}: {sentence}{(url is null ? "" : $" {url}")}", $"<p class=\"r\" style=\"margin:0;padding:8px 0;border-top:1px solid #d9d5c8\">{bold} {Safe(sentence)}</p>");
        }

        return this;
    }

    /// <summary>Ends the mail.</summary>
    /// <param name="subject">The subject line.</param>
    public MailText End(string subject)
    {
        string html = $"""
            <!doctype html>
            <html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>{Safe(subject)}</title>{Dark}</head>
            <body class="b" style="margin:0;background:#f7f5ef;color:#1d2a26;font:16px/1.5 system-ui,'Noto Sans','DejaVu Sans',sans-serif;overflow-wrap:anywhere">
            <div style="max-width:560px;margin:0 auto;padding:20px 16px">
            {_html}<p class="m r" style="margin:24px 0 0;padding-top:12px;border-top:1px solid #d9d5c8;color:#3f4b46;font-size:14px">{Safe(_voice.Organization)}</p>
            </div></body></html>
            """;
        return new MailText(OneLine(subject), $"{_text}\n{_voice.Organization}\n", html);
    }

    /// <summary>A text without line breaks and other control characters: one in a typed name must not end a header.</summary>
    /// <param name="text">Any text.</param>
    public static string OneLine(string text) => string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c));

    private MailWriter Add(string text, string html)
    {
        _text.Append(text).Append('\n');
        _html.Append(html).Append('\n');
        return this;
    }

    private static string Items(IEnumerable<string> lines) => string.Concat(lines.Select(line => $"<li>{Safe(line)}</li>"));

    private static string Safe(string text) => WebUtility.HtmlEncode(text);
}
