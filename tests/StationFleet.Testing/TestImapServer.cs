using System.Diagnostics;
using System.Globalization;
using System.Net.Sockets;
using MailKit;
using MailKit.Net.Imap;
using MailKit.Security;
using MimeKit;
using Xunit;

namespace StationFleet.Testing;

/// <summary>A test that needs Debian's IMAP server; it says so when it is not on this machine.</summary>
public sealed class NeedsImapFactAttribute : FactAttribute
{
    public NeedsImapFactAttribute() => Skip = TestImapServer.IsInstalled ? null : "There is no dovecot on this machine: apt-get install dovecot-imapd.";
}

/// <summary>Debian's Dovecot as a child process on a loopback port, with a folder and a mailbox of its own.</summary>
public sealed class TestImapServer : IAsyncDisposable
{
    public const string User = "fleet-answers";
    public const string Password = "only for tests";
    private const string Program = "/usr/sbin/dovecot";

    private readonly DirectoryInfo _folder;
    private readonly Process _process;

    private TestImapServer(DirectoryInfo folder, Process process, int port) => (_folder, _process, Port) = (folder, process, port);

    public static bool IsInstalled => File.Exists(Program);

    public int Port { get; }

    /// <summary>Starts it and waits until it answers.</summary>
    public static async Task<TestImapServer> StartAsync()
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("fleet-imap-");
        int port = TestSmtpServer.FreePort();
        string settings = Path.Combine(folder.FullName, "dovecot.conf");
        await File.WriteAllTextAsync(settings, Settings(folder.FullName, port));
        await File.WriteAllTextAsync(Path.Combine(folder.FullName, "users"), $"{User}:{{PLAIN}}{Password}\n");
        if (Environment.IsPrivilegedProcess)
        {
            // It refuses to touch mail as root.
            Directory.CreateDirectory(Path.Combine(folder.FullName, "mail"));
            using Process own = Process.Start("chown", ["-R", "mail:mail", Path.Combine(folder.FullName, "mail")]);
            await own.WaitForExitAsync();
            using Process open = Process.Start("chmod", ["755", folder.FullName]);
            await open.WaitForExitAsync();
        }

        TestImapServer server = new(folder, Process.Start(Program, ["-F", "-c", settings]), port);
        await server.WaitUntilItAnswersAsync();
        return server;
    }

    /// <summary>Puts a message into the mailbox, as a mail server would.</summary>
    public Task DeliverAsync(MimeMessage message) => InInboxAsync(folder => folder.AppendAsync(message, MessageFlags.None));

    /// <summary>How many messages are not marked as read.</summary>
    public Task<int> UnseenAsync() => InInboxAsync(async folder =>
    {
        await folder.StatusAsync(StatusItems.Unread);
        return folder.Unread;
    });

    /// <summary>Throws the mailbox away and makes it anew: its numbers mean other messages from then on.</summary>
    public async Task RemakeAsync(params MimeMessage[] messages)
    {
        foreach (string path in Directory.GetFileSystemEntries(Path.Combine(_folder.FullName, "mail")))
        {
            Directory.Delete(path, recursive: true);
        }

        await Task.Delay(TimeSpan.FromSeconds(1.1), TimeProvider.System); // UIDVALIDITY is a time in seconds
        foreach (MimeMessage message in messages)
        {
            await DeliverAsync(message);
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            // The master ends its own children.
            using Process kill = Process.Start("kill", [_process.Id.ToString(CultureInfo.InvariantCulture)]);
            await kill.WaitForExitAsync();
            using CancellationTokenSource patience = new(TimeSpan.FromSeconds(10));
            await _process.WaitForExitAsync(patience.Token);
        }

        _process.Dispose();
        _folder.Delete(recursive: true);
    }

    private async Task<T> InInboxAsync<T>(Func<IMailFolder, Task<T>> work)
    {
        using ImapClient client = new();
        await client.ConnectAsync("127.0.0.1", Port, SecureSocketOptions.None);
        await client.AuthenticateAsync(User, Password);
        T result = await work(client.Inbox!);
        await client.DisconnectAsync(quit: true);
        return result;
    }

    private async Task WaitUntilItAnswersAsync()
    {
        long started = TimeProvider.System.GetTimestamp();
        while (true)
        {
            try
            {
                using TcpClient client = new();
                await client.ConnectAsync("127.0.0.1", Port);
                await UnseenAsync();
                return;
            }
            catch (Exception failure) when (failure is SocketException or IOException or ProtocolException or AuthenticationException or CommandException)
            {
                if (_process.HasExited || TimeProvider.System.GetElapsedTime(started) > TimeSpan.FromSeconds(20))
                {
                    string log = Path.Combine(_folder.FullName, "log");
                    throw new InvalidOperationException($"Dovecot does not answer: {(File.Exists(log) ? await File.ReadAllTextAsync(log) : "no log")}", failure);
                }
            }

            await Task.Delay(TimeSpan.FromMilliseconds(50), TimeProvider.System);
        }
    }

    private static string Settings(string folder, int port)
    {
        string me = Environment.UserName;
        (string mail, string inside) = Environment.IsPrivilegedProcess ? ("mail", "dovecot") : (me, me);
        return $$"""
            base_dir = {{folder}}/run
            state_dir = {{folder}}/state
            log_path = {{folder}}/log
            protocols = imap
            listen = 127.0.0.1
            ssl = no
            disable_plaintext_auth = no
            default_internal_user = {{inside}}
            default_login_user = {{(Environment.IsPrivilegedProcess ? "dovenull" : me)}}
            mail_uid = {{mail}}
            mail_gid = {{mail}}
            first_valid_uid = 1
            mail_location = maildir:{{folder}}/mail/%u
            mail_home = {{folder}}/mail/%u
            service imap-login {
              chroot =
              inet_listener imap {
                port = {{port}}
              }
              inet_listener imaps {
                port = 0
              }
            }
            auth_failure_delay = 0
            service anvil {
              chroot =
              unix_listener anvil-auth-penalty {
                mode = 0
              }
            }
            service stats {
              chroot =
            }
            passdb {
              driver = passwd-file
              args = {{folder}}/users
            }
            userdb {
              driver = static
              args = uid={{mail}} gid={{mail}} home={{folder}}/mail/%u
            }
            """;
    }
}
