using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Time.Testing;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Mail;
using StationFleet.Web.Mail.Replies;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Tests.Mail;

/// <summary>An outbox on a database file with a clock that the test moves, and the operation that sends it.</summary>
internal sealed class MailDesk : IAsyncDisposable
{
    public static readonly DateTimeOffset Begin = new(2026, 7, 8, 13, 5, 0, TimeSpan.Zero);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-mail-");
    private readonly FakeTimeProvider _time = new(Begin);
    private int _written;
    private SendMail? _running;

    private MailDesk(MailOptions options)
    {
        Options = options;
        Clock = new FleetClock(_time, TimeSpan.Zero);
        Paths = new FleetPaths(_folder.FullName, isDemo: false);
    }

    public MailOptions Options { get; }

    public FleetClock Clock { get; }

    public FleetPaths Paths { get; }

    public FleetDatabaseFile Databases { get; } = new();

    public static Task<MailDesk> ForServerAsync(int port, Action<MailOptions>? change = null)
    {
        MailOptions options = new()
        {
            Host = "127.0.0.1", Port = port, Security = MailSecurity.None, From = "fleet@juniper-basin.example", FromName = "Fleet watch",
        };
        change?.Invoke(options);
        return OpenAsync(options);
    }

    public static Task<MailDesk> ForPickupAsync() => OpenAsync(new MailOptions());

    /// <summary>The mailbox of answers; not used unless a test sets it.</summary>
    public ImapOptions Imap { get; } = new();

    public void Advance(TimeSpan by) => _time.Advance(by);

    /// <summary>What runs next is a program started anew.</summary>
    public void Restart() => _running = null;

    public Task<int> SendAsync() => (_running ??= Start()).HandleAsync(CancellationToken.None);

    private SendMail Start()
    {
        FleetOptions fleet = new() { Organization = "Juniper Basin Watershed District", TimeZone = "America/Boise" };
        IMailTransport transport = Options.UsesServer
            ? new SmtpTransport(OptionsOf(Options), NullLogger<SmtpTransport>.Instance)
            : new PickupFolder(Paths);
        return new SendMail(
            Databases,
            transport,
            new MailComposer(OptionsOf(Options), OptionsOf(Imap), OptionsOf(fleet)),
            OptionsOf(Options),
            Clock,
            NullLogger<SendMail>.Instance);
    }

    public async Task<int> WriteAsync(string to, string? thread = null, string subject = "COP-1: Pump out the tank (T-121)")
    {
        OutgoingMail mail = New(to, thread, subject);
        await Databases.AddAsync(mail);
        return mail.Id;
    }

    /// <summary>One mail to each.</summary>
    public async Task WriteAsync(IReadOnlyCollection<string> to)
    {
        await using FleetDbContext db = Databases.CreateDbContext();
        db.AddRange(to.Select(one => New(one, null, "COP-1: Pump out the tank (T-121)")));
        await db.SaveChangesAsync();
    }

    private OutgoingMail New(string to, string? thread, string subject)
    {
        int n = ++_written;
        return new OutgoingMail
        {
            Key = $"test/{n}",
            MessageId = $"mail-{n}.test@juniper-basin.example",
            ThreadId = thread,
            To = to,
            Subject = subject,
            Text = "The tank holds 46 of 55 gal.\n",
            Html = "<!doctype html><p>The tank holds <b>46 of 55 gal</b>.</p>",
            Created = Clock.GetUtcNow(),
            NextAt = Clock.GetUtcNow(),
        };
    }

    public async Task<OutgoingMail> FindAsync(int id)
    {
        await using FleetDbContext db = Databases.CreateDbContext();
        return await db.OutgoingMails.AsNoTracking().SingleAsync(mail => mail.Id == id);
    }

    public async ValueTask DisposeAsync()
    {
        await Databases.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    private static IOptions<T> OptionsOf<T>(T value)
        where T : class => Microsoft.Extensions.Options.Options.Create(value);

    private static async Task<MailDesk> OpenAsync(MailOptions options)
    {
        MailDesk desk = new(options);
        await desk.Databases.InitializeAsync();
        return desk;
    }
}
