namespace StationFleet.Web.Mail.Digests;

/// <summary>When the mails by the calendar go, from <c>appsettings.json</c>, the environment or the command line.</summary>
public sealed class DigestOptions
{
    public const string Section = "Digest";

    /// <summary>When the morning mail and the weekly one go, by the clock of <c>Fleet:TimeZone</c>.</summary>
    public TimeOnly MorningAt { get; set; } = new(6, 30);

    /// <summary>The day of the weekly mail.</summary>
    public DayOfWeek WeeklyOn { get; set; } = DayOfWeek.Monday;
}
