using MimeKit;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Mail;
using StationFleet.Web.Mail.Replies;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;
using StationFleet.Web.Tests.Watch;

namespace StationFleet.Web.Tests.Mail.Replies;

/// <summary>A full tank of which the technician was told, a real SMTP server that took the mail, and a real mailbox for the answers.</summary>
internal sealed class ReplyScene : IAsyncDisposable
{
    public const string Technician = "technician@juniper-basin.example";

    private ReplyScene(WatchScene watch, TestImapServer imap, TestSmtpServer smtp) => (Watch, Imap, Smtp) = (watch, imap, smtp);

    public WatchScene Watch { get; }

    public TestImapServer Imap { get; }

    public TestSmtpServer Smtp { get; }

    public MailboxNews News { get; } = new();

    public static async Task<ReplyScene> StartAsync()
    {
        WatchScene watch = new();
        await watch.InitializeAsync();
        TestImapServer imap = await TestImapServer.StartAsync();
        ReplyScene scene = new(watch, imap, new TestSmtpServer());
        watch.Imap.Host = "127.0.0.1";
        watch.Imap.Port = imap.Port;
        watch.Imap.Security = MailSecurity.None;
        watch.Imap.User = TestImapServer.User;
        watch.Imap.Password = TestImapServer.Password;
        watch.Imap.Address = "fleet-answers@juniper-basin.example";
        await watch.SayAsync("tank/fill", 0.85, 0.85, 0.85);
        await scene.SendAsync();
        return scene;
    }

    /// <summary>The ticket's mail as it arrived at the technician's.</summary>
    public MimeMessage Called => Smtp.Arrived[0].Message;

    /// <summary>Sends what waits over the real server.</summary>
    public Task<int> SendAsync()
    {
        IOptions<MailOptions> options = Options.Create(new MailOptions
        {
            Host = "127.0.0.1", Port = Smtp.Port, Security = MailSecurity.None, From = "fleet@juniper-basin.example",
        });
        SendMail send = new(
            Watch.File, new SmtpTransport(options, NullLogger<SmtpTransport>.Instance),
            new MailComposer(options, Options.Create(Watch.Imap), Options.Create(WatchScene.Fleet)), options, Watch.Clock, NullLogger<SendMail>.Instance);
        return send.HandleAsync(CancellationToken.None);
    }

    /// <summary>Reads the mailbox, as after a start of the program.</summary>
    public Task<int> ReadAsync()
    {
        HandleIncoming handle = new(
            Watch.File, new TakeTicket(new TicketDesk(Watch.File, Watch.Clock)), Watch.Outbox(), Options.Create(Watch.Imap),
            Options.Create(Watch.Duty), Options.Create(WatchScene.Fleet), Watch.Clock);
        return new ReadReplies(Watch.File, handle, News, Options.Create(Watch.Imap), Watch.Clock, NullLogger<ReadReplies>.Instance)
            .HandleAsync(CancellationToken.None);
    }

    /// <summary>An answer as a mail program makes it: to the Reply-To address, with the mail quoted.</summary>
    public static MimeMessage AnswerTo(MimeMessage mail, string text, string from = Technician)
    {
        MimeMessage answer = new() { Subject = $"Re: {mail.Subject}", InReplyTo = mail.MessageId };
        answer.From.Add(MailboxAddress.Parse(from));
        answer.To.AddRange(mail.ReplyTo);
        string quoted = string.Join('\n', (mail.TextBody ?? "").Split('\n').Select(line => $"> {line.TrimEnd('\r')}"));
        answer.Body = new TextPart("plain") { Text = $"{text}\n\nOn Mon, 1 Jun 2026 at 06:30, Fleet watch\n<fleet@juniper-basin.example> wrote:\n\n{quoted}\n" };
        return answer;
    }

    /// <summary>Delivers a message into the mailbox and reads it.</summary>
    public async Task<ReceivedKind> ReceiveAsync(MimeMessage message)
    {
        await Imap.DeliverAsync(message);
        (await ReadAsync()).Should().Be(1);
        return (await Watch.RowsAsync<ReceivedMail>()).MaxBy(row => row.Id)!.Kind;
    }

    public async Task<Ticket> TicketAsync() => (await Watch.RowsAsync<Ticket>()).Single();

    public async Task<List<TicketEvent>> EventsAsync() => await Watch.RowsAsync<TicketEvent>();

    /// <summary>Somebody takes the ticket on its page.</summary>
    public Task<TicketAnswer> TakeOnPageAsync(Viewer viewer, int seen = 1) => new TakeTicket(new TicketDesk(Watch.File, Watch.Clock)).HandleAsync(
        new TicketForm(1, FormKey.New(), 0, seen, viewer), CancellationToken.None);

    public async ValueTask DisposeAsync()
    {
        await Imap.DisposeAsync();
        await Smtp.DisposeAsync();
        await Watch.DisposeAsync();
    }
}
