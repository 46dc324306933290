using System.Security.Cryptography;
using System.Text;

namespace StationFleet.Web.Telemetry;

/// <summary>
/// How a station key is written: <c>sfk_</c>, 8 characters by which it is found, <c>_</c>, and 32 characters that hold 160 random
/// bits. All of it is lawful in an Authorization header (RFC 6750).
/// </summary>
internal static class StationKeyText
{
    private const string Base32 = "abcdefghijklmnopqrstuvwxyz234567"; // RFC 4648, in lower case
    private const string Head = "sfk_";
    private const int PrefixLength = 12;
    private const int Length = PrefixLength + 1 + 32;

    public static string New() =>
        $"{Head}{RandomNumberGenerator.GetString(Base32, 8)}_{RandomNumberGenerator.GetString(Base32, 32)}";

    /// <summary>The readable head of a key, or null when the text cannot be a key.</summary>
    public static string? PrefixOf(string? text) =>
        text is { Length: Length } && text.StartsWith(Head, StringComparison.Ordinal) && text[PrefixLength] == '_'
            ? text[..PrefixLength]
            : null;

    public static byte[] HashOf(string key) => SHA256.HashData(Encoding.UTF8.GetBytes(key));
}
