using System.ComponentModel.DataAnnotations;

namespace StationFleet.Web.Mail.Replies;

/// <summary>The mailbox in which answers and bounces arrive, from <c>appsettings.json</c>, the environment or the command line.</summary>
public sealed class ImapOptions : IValidatableObject
{
    public const string Section = "Imap";

    /// <summary>The mail server; empty reads no answers.</summary>
    public string Host { get; set; } = "";

    [Range(1, 65535)]
    public int Port { get; set; } = 993;

    [EnumDataType(typeof(MailSecurity))]
    public MailSecurity Security { get; set; } = MailSecurity.Tls;

    public string User { get; set; } = "";

    public string Password { get; set; } = "";

    /// <summary>The folder to read; its messages are marked as read and stay.</summary>
    public string Folder { get; set; } = "INBOX";

    /// <summary>The mailbox's address. Mail to <c>name+anything@domain</c> must reach it too (RFC 5233).</summary>
    public string Address { get; set; } = "";

    /// <summary>How often to look [s].</summary>
    [Range(10, 3600)]
    public int EverySeconds { get; set; } = 60;

    /// <summary>The most of one message that is fetched [KiB]; of a larger one only its text, if that is small enough.</summary>
    [Range(1, 10240)]
    public int MostKibibytes { get; set; } = 256;

    /// <summary>The server must answer within this time [s].</summary>
    [Range(1, 600)]
    public int TimeoutSeconds { get; set; } = 60;

    public bool IsUsed => Host.Length > 0;

    /// <summary>The address that an answer to one mail goes to.</summary>
    /// <param name="token">The mail's own token.</param>
    public string AddressFor(string token)
    {
        int at = Address.LastIndexOf('@');
        return $"{Address[..at]}+{token}{Address[at..]}";
    }

    public IEnumerable<ValidationResult> Validate(ValidationContext validationContext)
    {
        if (!IsUsed)
        {
            yield break;
        }

        // RFC 5321 §4.5.3.1.1: 64 octets before the @.
        if (!MailComposer.IsPlainAddress(Address) || Address.LastIndexOf('@') > 64 - 27)
        {
            yield return Wrong("Imap:Address must be one address like fleet-answers@example.org, with at most 37 characters before the @.", nameof(Address));
        }

        if (User.Length == 0 || Password.Length == 0)
        {
            yield return Wrong("Imap:User and Imap:Password must be set when Imap:Host is.", nameof(User));
        }

        if (Security == MailSecurity.None && !MailOptions.IsThisMachine(Host))
        {
            yield return Wrong("Imap:Security must be StartTls or Tls: a password does not travel in the open.", nameof(Security));
        }
    }

    private static ValidationResult Wrong(string message, string member) => new(message, [member]);
}
