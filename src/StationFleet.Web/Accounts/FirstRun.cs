using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Accounts;

/// <summary>
/// Whether this installation still waits for its first account, and the code that lets somebody make it: whoever can read the
/// server's console may, nobody else.
/// </summary>
internal sealed class FirstRun(IDbContextFactory<FleetDbContext> databases)
{
    // Without 0, O, 1 and I, which people mix up.
    private const string Alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789";

    private readonly string _code = RandomNumberGenerator.GetString(Alphabet, 10);
    private volatile bool _isOver;

    /// <summary>The code as the console shows it.</summary>
    public string Code => $"{_code[..5]}-{_code[5..]}";

    public async ValueTask<bool> IsOpenAsync(CancellationToken cancel)
    {
        if (_isOver)
        {
            return false;
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        _isOver = await db.Users.AnyAsync(cancel);
        return !_isOver;
    }

    /// <summary>Whether this is the code; small letters, spaces and a missing hyphen do not matter.</summary>
    public bool Accepts(string? typed)
    {
        string plain = (typed ?? "").Replace("-", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal);
        return CryptographicOperations.FixedTimeEquals(
            Encoding.UTF8.GetBytes(plain.ToUpperInvariant()), Encoding.UTF8.GetBytes(_code));
    }
}
