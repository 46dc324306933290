using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using MimeKit;
using SmtpServer;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace StationFleet.Testing;

/// <summary>What the test's mail server does with one try for one recipient.</summary>
public abstract record SmtpAnswer
{
    /// <summary>250.</summary>
    public sealed record Take : SmtpAnswer;

    /// <summary>Answers RCPT with this number and these words.</summary>
    public sealed record AtRecipient(int Code, string Words) : SmtpAnswer;

    /// <summary>Answers the final dot with this number and these words.</summary>
    public sealed record AtFinalDot(int Code, string Words) : SmtpAnswer;

    /// <summary>Answers RCPT with 421 and these words, and ends the connection.</summary>
    public sealed record QuitAtRecipient(string Words) : SmtpAnswer;

    /// <summary>Cuts the connection when RCPT comes.</summary>
    public sealed record DropAtRecipient : SmtpAnswer;

    /// <summary>Waits before it answers the final dot; keeps the mail, or not, before it waits.</summary>
    public sealed record Late(TimeSpan Wait, bool Keeps) : SmtpAnswer;

    /// <summary>Cuts the connection when DATA comes.</summary>
    public sealed record DropBeforeFinalDot : SmtpAnswer;

    /// <summary>Keeps the mail, then cuts the connection without an answer.</summary>
    public sealed record DropAfterFinalDot : SmtpAnswer;

    /// <summary>Takes the mail, but only when <see cref="TestSmtpServer.LetSlowOnesGo"/> was called.</summary>
    public sealed record Slow : SmtpAnswer;
}

/// <summary>A mail as it arrived.</summary>
public sealed record ArrivedMail(string EnvelopeFrom, string To, MimeMessage Message, string Raw);

/// <summary>A real SMTP server on a loopback port, with scripted answers for each recipient; what is not scripted is taken.</summary>
public sealed class TestSmtpServer : IAsyncDisposable
{
    private readonly ConcurrentDictionary<string, ConcurrentQueue<SmtpAnswer>> _script = new(StringComparer.OrdinalIgnoreCase);
    private readonly ConcurrentDictionary<string, int> _tries = new(StringComparer.OrdinalIgnoreCase);
    private readonly ConcurrentQueue<ArrivedMail> _arrived = new();
    private readonly CancellationTokenSource _stop = new();
    private readonly TaskCompletionSource _slowMayGo = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Task _running;
    private int _connections;

    public TestSmtpServer(int? port = null)
    {
        Port = port ?? FreePort();
        SmtpServer.ComponentModel.ServiceProvider services = new();
        Script script = new(this);
        services.Add((IMessageStore)script);
        services.Add((IMailboxFilter)script);
        ISmtpServerOptions options = new SmtpServerOptionsBuilder()
            .ServerName("mail.test")
            .Endpoint(endpoint => endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, Port)))
            .Build();
        SmtpServer.SmtpServer server = new(options, services);
        server.SessionCreated += (_, session) =>
        {
            Interlocked.Increment(ref _connections);
            session.Context.CommandExecuting += (_, executing) =>
            {
                if (executing.Command is DataCommand && session.Context.Properties.ContainsKey(nameof(SmtpAnswer.DropBeforeFinalDot)))
                {
                    Cut(session.Context);
                }
            };
        };
        _running = server.StartAsync(_stop.Token);
    }

    /// <summary>A server on a free port.</summary>
    public static TestSmtpServer Start() => new();

    public int Port { get; }

    public IReadOnlyList<ArrivedMail> Arrived => [.. _arrived];

    /// <summary>Connections that were opened so far.</summary>
    public int Connections => _connections;

    /// <summary>A loopback port on which nobody listens.</summary>
    public static int FreePort()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    /// <summary>Scripts the next tries for a recipient, in order; afterwards its mails are taken.</summary>
    public void Answer(string to, params SmtpAnswer[] answers) => _script[to] = new ConcurrentQueue<SmtpAnswer>(answers);

    public int TriesFor(string to) => _tries.GetValueOrDefault(to);

    public void LetSlowOnesGo() => _slowMayGo.TrySetResult();

    public async ValueTask DisposeAsync()
    {
        LetSlowOnesGo();
        await _stop.CancelAsync();
        try
        {
            await _running;
        }
        catch (OperationCanceledException)
        {
            // How the server says that it has stopped.
        }

        _stop.Dispose();
    }

    private static void Cut(ISessionContext session) => ((IDisposable)session.Pipe).Dispose();

    private sealed class Script(TestSmtpServer server) : MessageStore, IMailboxFilter
    {
        private const string Now = "answer";

        public Task<bool> CanAcceptFromAsync(ISessionContext context, IMailbox from, int size, CancellationToken cancellationToken) =>
            Task.FromResult(true);

        public Task<bool> CanDeliverToAsync(ISessionContext context, IMailbox to, IMailbox from, CancellationToken cancellationToken)
        {
            string address = $"{to.User}@{to.Host}";
            server._tries.AddOrUpdate(address, 1, (_, tries) => tries + 1);
            SmtpAnswer answer = server._script.TryGetValue(address, out var script) && script.TryDequeue(out SmtpAnswer? scripted)
                ? scripted
                : new SmtpAnswer.Take();
            context.Properties[Now] = answer;
            context.Properties.Remove(nameof(SmtpAnswer.DropBeforeFinalDot));
            switch (answer)
            {
                case SmtpAnswer.AtRecipient refusal:
                    throw new SmtpResponseException(new SmtpResponse((SmtpReplyCode)refusal.Code, refusal.Words));
                case SmtpAnswer.QuitAtRecipient goodbye:
                    throw new SmtpResponseException(new SmtpResponse(SmtpReplyCode.ServiceUnavailable, goodbye.Words), quit: true);
                case SmtpAnswer.DropAtRecipient:
                    Cut(context);
                    throw new OperationCanceledException("Cut by the test.");
                case SmtpAnswer.DropBeforeFinalDot:
                    context.Properties[nameof(SmtpAnswer.DropBeforeFinalDot)] = true;
                    break;
            }

            return Task.FromResult(true);
        }

        public override async Task<SmtpResponse> SaveAsync(
            ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
        {
            byte[] raw = buffer.ToArray();
            switch (context.Properties[Now])
            {
                case SmtpAnswer.AtFinalDot refusal:
                    return new SmtpResponse((SmtpReplyCode)refusal.Code, refusal.Words);
                case SmtpAnswer.DropAfterFinalDot:
                    Keep();
                    Cut(context);
                    throw new OperationCanceledException("Cut by the test.");
                case SmtpAnswer.Late late:
                    if (late.Keeps)
                    {
                        Keep();
                    }

                    await Task.Delay(late.Wait, cancellationToken);
                    if (late.Keeps)
                    {
                        return SmtpResponse.Ok;
                    }

                    break;
                case SmtpAnswer.Slow:
                    await server._slowMayGo.Task.WaitAsync(cancellationToken);
                    break;
            }

            Keep();
            return SmtpResponse.Ok;

            void Keep() => server._arrived.Enqueue(new ArrivedMail(
                $"{transaction.From.User}@{transaction.From.Host}",
                string.Join(",", transaction.To.Select(to => $"{to.User}@{to.Host}")),
                MimeMessage.Load(new MemoryStream(raw), CancellationToken.None),
                System.Text.Encoding.ASCII.GetString(raw)));
        }
    }
}
