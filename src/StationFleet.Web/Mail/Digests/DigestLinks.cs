using System.Security.Cryptography;
using Microsoft.AspNetCore.DataProtection;

namespace StationFleet.Web.Mail.Digests;

/// <summary>Links that end a person's mails of one kind without signing in: signed, so that nobody can make one for somebody else.</summary>
internal sealed class DigestLinks(IDataProtectionProvider protection, Outbox outbox)
{
    public const string Path = "/mail/unsubscribe";

    private readonly IDataProtector _protector = protection.CreateProtector("StationFleet.Mail.Unsubscribe");

    public string StopUrl(string personId, DigestKind kind) => outbox.Url($"{Path}/{Token(personId, kind)}");

    public string Token(string personId, DigestKind kind) => _protector.Protect($"{kind}/{personId}");

    /// <summary>Reads a link; null when it is not whole, or not ours.</summary>
    public (DigestKind Kind, string PersonId)? Read(string? token)
    {
        try
        {
            string[] parts = _protector.Unprotect(token ?? "").Split('/', 2);
            return Enum.TryParse(parts[0], out DigestKind kind) ? (kind, parts[1]) : null;
        }
        catch (CryptographicException)
        {
            return null;
        }
    }
}
