using System.ComponentModel.DataAnnotations;
using System.Net;

namespace StationFleet.Web.Mail;

/// <summary>How the connection to the mail server is protected.</summary>
public enum MailSecurity
{
    /// <summary>Plain text: for a server on the same machine.</summary>
    None,

    /// <summary>Plain first, then encrypted by STARTTLS; a server without it is not used. The usual choice on port 587.</summary>
    StartTls,

    /// <summary>Encrypted from the first byte. The usual choice on port 465.</summary>
    Tls,
}

/// <summary>How mails leave, from <c>appsettings.json</c>, the environment or the command line.</summary>
public sealed class MailOptions : IValidatableObject
{
    public const string Section = "Mail";

    private static readonly double[] DefaultDelays = [1, 2, 5, 15, 30, 120];

    /// <summary>The mail server; empty writes files into the pickup folder instead.</summary>
    public string Host { get; set; } = "";

    [Range(1, 65535)]
    public int Port { get; set; } = 587;

    [EnumDataType(typeof(MailSecurity))]
    public MailSecurity Security { get; set; } = MailSecurity.StartTls;

    /// <summary>Whom to sign in as; empty does not sign in.</summary>
    public string User { get; set; } = "";

    public string Password { get; set; } = "";

    /// <summary>The sender's address that readers see; a person should read what arrives there.</summary>
    public string From { get; set; } = "";

    /// <summary>The sender's name; empty takes the organization's.</summary>
    public string FromName { get; set; } = "";

    /// <summary>Where the mail server sends bounces; empty takes <see cref="From"/>.</summary>
    public string EnvelopeFrom { get; set; } = "";

    /// <summary>The right-hand side of Message-IDs; empty takes the domain of <see cref="From"/>.</summary>
    public string Domain { get; set; } = "";

    /// <summary>How often to look for waiting mails [s].</summary>
    [Range(1, 3600)]
    public int EverySeconds { get; set; } = 60;

    /// <summary>
    /// Delays before the next try [min]; the last one repeats. Left empty (a list in the settings would be added to a default one),
    /// it is 1, 2, 5, 15, 30 and then every 120: shorter than RFC 5321 §4.5.4.1 asks of relays, since this hands over to one server.
    /// </summary>
    public IList<double> RetryMinutes { get; } = [];

    /// <summary>A mail is given up after this many days of trying [d]; RFC 5321 §4.5.4.1: at least 4 to 5.</summary>
    [Range(0.01, 60)]
    public double GiveUpAfterDays { get; set; } = 5;

    /// <summary>
    /// One mail may take this long [s]. RFC 5321 §4.5.3.2 gives the final dot 10 minutes: giving up sooner sends mails twice.
    /// </summary>
    [Range(1, 3600)]
    public int TimeoutSeconds { get; set; } = 600;

    /// <summary>The server must answer the connection and the signing in within this time [s].</summary>
    [Range(1, 600)]
    public int ConnectSeconds { get; set; } = 30;

    /// <summary>When a mail takes longer than this [s], the next ones go over another connection meanwhile.</summary>
    [Range(0.05, 600)]
    public double SlowAfterSeconds { get; set; } = 10;

    /// <summary>Most connections at one time.</summary>
    [Range(1, 10)]
    public int MostConnections { get; set; } = 4;

    public bool UsesServer => Host.Length > 0;

    /// <summary>The sender's address, also when none is set: nothing answers there.</summary>
    public string Sender => From.Length > 0 ? From : $"stationfleet@{(Domain.Length > 0 ? Domain : "localhost.invalid")}";

    /// <summary>The right-hand side of Message-IDs.</summary>
    public string MessageIdDomain => Domain.Length > 0 ? Domain : Sender[(Sender.LastIndexOf('@') + 1)..];

    private double[] Delays => RetryMinutes.Count > 0 ? [.. RetryMinutes] : DefaultDelays;

    /// <summary>How long to wait after a failed try.</summary>
    /// <param name="attempts">Tries so far, 1 or more.</param>
    public TimeSpan DelayAfter(int attempts) => TimeSpan.FromMinutes(Delays[Math.Min(attempts, Delays.Length) - 1]);

    /// <summary>Whether the tries so far, with the delays between them, fill the time after which a mail is given up.</summary>
    /// <param name="attempts">Tries so far, 1 or more.</param>
    public bool GivesUpAfter(int attempts)
    {
        double minutes = 0;
        for (int n = 1; n < attempts; n++)
        {
            minutes += DelayAfter(n).TotalMinutes;
        }

        return minutes >= TimeSpan.FromDays(GiveUpAfterDays).TotalMinutes;
    }

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (UsesServer && From.Length == 0)
        {
            yield return Wrong("Mail:From must be set when Mail:Host is.", nameof(From));
        }

        foreach ((string name, string address) in new[] { (nameof(From), From), (nameof(EnvelopeFrom), EnvelopeFrom) })
        {
            if (address.Length > 0 && !MailComposer.IsPlainAddress(address))
            {
                yield return Wrong($"Mail:{name} must be one address like fleet@example.org.", name);
            }
        }

        if (Domain.Length > 0 && Uri.CheckHostName(Domain) == UriHostNameType.Unknown)
        {
            yield return Wrong("Mail:Domain must be a domain name like example.org.", nameof(Domain));
        }

        if (User.Length > 0 && Security == MailSecurity.None && !IsThisMachine(Host))
        {
            yield return Wrong("Mail:User needs Mail:Security StartTls or Tls: a password does not travel in the open.", nameof(Security));
        }

        if (FromName.Any(char.IsControl))
        {
            yield return Wrong("Mail:FromName must be one line.", nameof(FromName));
        }

        if (RetryMinutes.Any(minutes => !(minutes > 0 && minutes <= 1440)))
        {
            yield return Wrong("Mail:RetryMinutes must each be more than 0 and at most 1440.", nameof(RetryMinutes));
        }
    }

    internal static bool IsThisMachine(string host) =>
        host == "localhost" || (IPAddress.TryParse(host, out IPAddress? address) && IPAddress.IsLoopback(address));

    private static ValidationResult Wrong(string message, string member) => new(message, [member]);
}
