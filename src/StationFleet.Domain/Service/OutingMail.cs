using StationFleet.Domain.Mail;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Service;

/// <summary>The mails about a person who is out alone: late, and back after all.</summary>
public static class OutingMail
{
    /// <summary>Stands wherever working alone is spoken of.</summary>
    public const string NoSafetySystem =
        "This is no lone-worker safety system: it needs signal, mail and somebody who reads it. In an emergency call for help yourself.";

    /// <summary>Somebody is late.</summary>
    /// <param name="who">The person's name.</param>
    /// <param name="where">Where to, in the person's words; may be empty.</param>
    /// <param name="since">When the person went out.</param>
    /// <param name="expected">When the person meant to be back.</param>
    /// <param name="now">The present.</param>
    /// <param name="zone">In whose time it is written.</param>
    /// <param name="voice">Who writes.</param>
    public static MailText Late(
        string who, string where, DateTimeOffset since, DateTimeOffset expected, DateTimeOffset now, TimeZoneInfo zone, MailVoice voice) =>
        new MailWriter(voice)
            .Lead($"{who} meant to be back {TimeWords.When(expected, now, zone)} and has not pressed “Back safe”.")
            .Paragraph($"Out since {TimeWords.When(since, now, zone)}.{(where.Length > 0 ? $" Where to: {where}" : "")}")
            .Paragraph("Perhaps there is only no signal. Call; if nobody answers, do as your agency’s rules say. You are told once; another mail follows when “Back safe” arrives.")
            .Paragraph(NoSafetySystem)
            .End($"{who} is not back");

    /// <summary>Somebody of whom it was told that they are late is back.</summary>
    /// <param name="who">The person's name.</param>
    /// <param name="back">When the button was pressed.</param>
    /// <param name="now">The present.</param>
    /// <param name="zone">In whose time it is written.</param>
    /// <param name="voice">Who writes.</param>
    public static MailText Back(string who, DateTimeOffset back, DateTimeOffset now, TimeZoneInfo zone, MailVoice voice) =>
        new MailWriter(voice)
            .Lead($"{who} pressed “Back safe” {TimeWords.When(back, now, zone)}.")
            .End($"{who} is back");
}
