using System.Net.Sockets;
using MailKit;
using MailKit.Net.Imap;
using MailKit.Search;
using MailKit.Security;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using MimeKit;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail.Replies;

/// <summary>Reads what is new in the mailbox. The database says what was handled; the mark in the mailbox is for people.</summary>
internal sealed partial class ReadReplies(
    IDbContextFactory<FleetDbContext> databases, HandleIncoming handle, MailboxNews news, IOptions<ImapOptions> options, FleetClock clock,
    ILogger<ReadReplies> logger)
{
    private const int MostPerRun = 200;

    /// <returns>How many messages were handled; 0 too when the mailbox could not be read: the page Mail then says so.</returns>
    public async Task<int> HandleAsync(CancellationToken cancel)
    {
        ImapOptions settings = options.Value;
        if (!settings.IsUsed)
        {
            return 0;
        }

        using CancellationTokenSource limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(TimeSpan.FromSeconds(10 * settings.TimeoutSeconds));
        try
        {
            using ImapClient client = new() { Timeout = settings.TimeoutSeconds * 1000 };
            await client.ConnectAsync(settings.Host, settings.Port, SmtpTransport.SocketOptions(settings.Security), limit.Token);
            await client.AuthenticateAsync(settings.User, settings.Password, limit.Token);
            IMailFolder folder = await client.GetFolderAsync(settings.Folder, limit.Token);
            await folder.OpenAsync(FolderAccess.ReadWrite, limit.Token);
            int handled = await ReadAsync(folder, limit.Token);
            await client.DisconnectAsync(quit: true, limit.Token);
            news.Read(clock.GetUtcNow());
            return handled;
        }
        catch (Exception failure) when (IsOutside(failure) || (failure is OperationCanceledException && !cancel.IsCancellationRequested))
        {
            LogFailed(failure);
            news.NotRead(clock.GetUtcNow(), failure is AuthenticationException
                ? "The mailbox did not accept Imap:User and Imap:Password."
                : $"The mailbox at {settings.Host}:{settings.Port} could not be read.");
            return 0;
        }
    }

    private async Task<int> ReadAsync(IMailFolder folder, CancellationToken cancel)
    {
        string mailbox = $"{folder.FullName}/{folder.UidValidity}";
        uint last = await LastAsync(mailbox, cancel);

        // «Last and later» always finds the last message (RFC 3501 §6.4.8), so what is known is left out again.
        IList<UniqueId> found = last == uint.MaxValue
            ? []
            : await folder.SearchAsync(SearchQuery.Uids(new UniqueIdRange(new UniqueId(last + 1), UniqueId.MaxValue)), cancel);
        int handled = 0;
        foreach (UniqueId uid in found.Where(uid => uid.Id > last).OrderBy(uid => uid.Id).Take(MostPerRun))
        {
            if (await FetchAsync(folder, mailbox, uid, cancel) is not { } message)
            {
                continue;
            }

            ReceivedKind kind = await handle.HandleAsync(message, cancel);
            LogHandled(uid.Id, kind);
            handled++;
            await folder.AddFlagsAsync(uid, MessageFlags.Seen, silent: true, cancel);
        }

        return handled;
    }

    private async Task<uint> LastAsync(string mailbox, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return (uint)(await db.ReceivedMails.Where(row => row.Mailbox == mailbox).MaxAsync(row => (long?)row.Uid, cancel) ?? 0);
    }

    /// <summary>A small message whole, of a large one the headers and the text; null when it is gone.</summary>
    private async Task<IncomingMail?> FetchAsync(IMailFolder folder, string mailbox, UniqueId uid, CancellationToken cancel)
    {
        IList<IMessageSummary> summaries = await folder.FetchAsync([uid], MessageSummaryItems.Size | MessageSummaryItems.BodyStructure, cancel);
        if (summaries.FirstOrDefault(summary => summary.UniqueId == uid) is not { } summary)
        {
            return null;
        }

        uint most = (uint)options.Value.MostKibibytes * 1024;
        try
        {
            if (summary.Size <= most)
            {
                return new IncomingMail(mailbox, uid.Id, await folder.GetMessageAsync(uid, cancel), NotFetched: null);
            }

            MimeMessage part = new(await folder.GetHeadersAsync(uid, cancel));
            if ((summary.TextBody ?? summary.HtmlBody) is not { } text || text.Octets > most)
            {
                return new IncomingMail(mailbox, uid.Id, part, ReceivedKind.TooLarge);
            }

            part.Body = await folder.GetBodyPartAsync(uid, text, cancel);
            return new IncomingMail(mailbox, uid.Id, part, NotFetched: null);
        }
        catch (FormatException)
        {
            // No message at all; it must not stand before the others for ever.
            return new IncomingMail(mailbox, uid.Id, new MimeMessage(), ReceivedKind.Unreadable);
        }
    }

    private static bool IsOutside(Exception failure) => failure
        is SocketException or IOException or ProtocolException or CommandException or AuthenticationException or SslHandshakeException
        or ServiceNotConnectedException or ServiceNotAuthenticatedException or FolderNotFoundException or NotSupportedException or TimeoutException;

    [LoggerMessage(4120, LogLevel.Warning, "The mailbox could not be read; it is tried again")]
    private partial void LogFailed(Exception failure);

    [LoggerMessage(4121, LogLevel.Information, "Message {Uid} of the mailbox was handled: {Kind}")]
    private partial void LogHandled(uint uid, ReceivedKind kind);
}
