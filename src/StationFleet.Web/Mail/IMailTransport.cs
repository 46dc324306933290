using MimeKit;

namespace StationFleet.Web.Mail;

/// <summary>Where mails go: a mail server, or files in a folder.</summary>
internal interface IMailTransport
{
    /// <summary>Starts handing over mails one after the other; nothing is connected before the first.</summary>
    IMailRun Begin();
}

/// <summary>Mails handed over one after the other, over one connection as long as it holds.</summary>
internal interface IMailRun : IAsyncDisposable
{
    Task<Delivery> SendAsync(MimeMessage message, MailboxAddress from, MailboxAddress to, CancellationToken cancel);
}

/// <summary>What came of handing over one mail, with the words of the other side.</summary>
internal abstract record Delivery
{
    private Delivery()
    {
    }

    /// <summary>The other side took the mail and answers for it from now on.</summary>
    internal sealed record Taken(string Words) : Delivery;

    /// <summary>Not now: try again.</summary>
    internal sealed record TryLater(string Words) : Delivery;

    /// <summary>Refused for good: the same mail would be refused again.</summary>
    internal sealed record Refused(string Words) : Delivery;
}
