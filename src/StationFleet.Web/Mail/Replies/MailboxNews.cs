namespace StationFleet.Web.Mail.Replies;

/// <summary>How the last look into the mailbox went, for the page Mail.</summary>
internal sealed class MailboxNews
{
    /// <param name="At">When it was.</param>
    /// <param name="Trouble">What was wrong; null when it was read.</param>
    internal sealed record Look(DateTimeOffset At, string? Trouble);

    public Look? Last { get; private set; }

    public void Read(DateTimeOffset at) => Last = new Look(at, null);

    public void NotRead(DateTimeOffset at, string trouble) => Last = new Look(at, trouble);
}
