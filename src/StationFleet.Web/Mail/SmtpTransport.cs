using System.Net.Sockets;
using MailKit;
using MailKit.Net.Smtp;
using MailKit.Security;
using Microsoft.Extensions.Options;
using MimeKit;

namespace StationFleet.Web.Mail;

/// <summary>Hands mails to one mail server by SMTP.</summary>
internal sealed partial class SmtpTransport(IOptions<MailOptions> options, ILogger<SmtpTransport> logger) : IMailTransport
{
    public IMailRun Begin() => new Run(options.Value, logger);

    internal static SecureSocketOptions SocketOptions(MailSecurity security) => security switch
    {
        MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
        MailSecurity.StartTls => SecureSocketOptions.StartTls,
        _ => SecureSocketOptions.None,
    };

    private sealed class Run(MailOptions settings, ILogger logger) : IMailRun
    {
        private SmtpClient? _client;
        private Delivery? _unreachable;

        public async Task<Delivery> SendAsync(MimeMessage message, MailboxAddress from, MailboxAddress to, CancellationToken cancel)
        {
            // The server that was not there for the last mail is not asked again for each of the others.
            Delivery? trouble = _unreachable ?? await ConnectAsync(cancel);
            if (trouble is not null)
            {
                return _unreachable = trouble;
            }

            using CancellationTokenSource limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
            limit.CancelAfter(TimeSpan.FromSeconds(settings.TimeoutSeconds));
            try
            {
                return new Delivery.Taken(OneLine(await _client!.SendAsync(message, from, [to], limit.Token)));
            }
            catch (SmtpCommandException refusal) when (IsAboutThisMail(refusal))
            {
                return new Delivery.Refused(Words(refusal));
            }
            catch (SmtpCommandException refusal)
            {
                return new Delivery.TryLater(Words(refusal));
            }
            catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
            {
                Drop();
                return new Delivery.TryLater($"The server did not answer within {settings.TimeoutSeconds} s.");
            }
            catch (Exception failure) when (IsOutside(failure))
            {
                LogBroken(logger, failure);
                Drop();
                return new Delivery.TryLater("The connection broke while the mail was under way.");
            }
        }

        public async ValueTask DisposeAsync()
        {
            if (_client is { IsConnected: true })
            {
                try
                {
                    using CancellationTokenSource limit = new(TimeSpan.FromSeconds(5));
                    await _client.DisconnectAsync(quit: true, limit.Token);
                }
                catch (Exception failure) when (IsOutside(failure) || failure is OperationCanceledException or SmtpCommandException)
                {
                    // The mails are already where they belong; a missing goodbye changes nothing.
                    LogBroken(logger, failure);
                }
            }

            Drop();
        }

        private async Task<Delivery?> ConnectAsync(CancellationToken cancel)
        {
            if (_client is { IsConnected: true })
            {
                return null;
            }

            Drop();
            // Its own limit is for one read or write; the limit for the whole mail is to run out first.
            _client = new SmtpClient { Timeout = (settings.TimeoutSeconds + settings.ConnectSeconds) * 1000 };
            using CancellationTokenSource limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
            limit.CancelAfter(TimeSpan.FromSeconds(settings.ConnectSeconds));
            try
            {
                await _client.ConnectAsync(settings.Host, settings.Port, SocketOptions(settings.Security), limit.Token);
                if (settings.User.Length > 0)
                {
                    await _client.AuthenticateAsync(settings.User, settings.Password, limit.Token);
                }

                return null;
            }
            catch (SmtpCommandException refusal)
            {
                // Whatever the number: it is about us and the server, not about one mail.
                return new Delivery.TryLater(Words(refusal));
            }
            catch (AuthenticationException failure)
            {
                LogBroken(logger, failure);
                return new Delivery.TryLater("The server did not accept Mail:User and Mail:Password.");
            }
            catch (SslHandshakeException failure)
            {
                LogBroken(logger, failure);
                return new Delivery.TryLater("No secure connection to the server: its certificate or its TLS is not accepted.");
            }
            catch (NotSupportedException failure)
            {
                LogBroken(logger, failure);
                return new Delivery.TryLater("The server does not offer what Mail:Security or Mail:User asks for.");
            }
            catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
            {
                return new Delivery.TryLater($"{settings.Host}:{settings.Port} did not answer within {settings.ConnectSeconds} s.");
            }
            catch (Exception failure) when (IsOutside(failure))
            {
                LogBroken(logger, failure);
                return new Delivery.TryLater($"No mail server answers at {settings.Host}:{settings.Port}.");
            }
        }

        private void Drop()
        {
            _client?.Dispose();
            _client = null;
        }

        /// <summary>5yz is final (RFC 5321 §4.2.1), unless the server asks for a sign-in: then the settings are wrong, not the mail.</summary>
        private static bool IsAboutThisMail(SmtpCommandException refusal) =>
            (int)refusal.StatusCode >= 500
            && refusal.StatusCode is not (SmtpStatusCode.AuthenticationRequired or SmtpStatusCode.AuthenticationInvalidCredentials);

        private static bool IsOutside(Exception failure) =>
            failure is SocketException or IOException or ProtocolException or ServiceNotConnectedException or TimeoutException;

        private static string Words(SmtpCommandException refusal) => OneLine($"{(int)refusal.StatusCode} {refusal.Message}");

        private static string OneLine(string words)
        {
            string line = string.Join(' ', words.Split(['\r', '\n', '\t', ' '], StringSplitOptions.RemoveEmptyEntries));
            return line.Length <= 500 ? line : line[..500];
        }
    }

    [LoggerMessage(4101, LogLevel.Warning, "The connection to the mail server failed")]
    private static partial void LogBroken(ILogger logger, Exception failure);
}
