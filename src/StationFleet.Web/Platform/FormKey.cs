using System.Text.RegularExpressions;

namespace StationFleet.Web.Platform;

/// <summary>The key that a form carries, so that sending it twice does its work once.</summary>
internal static partial class FormKey
{
    /// <summary>What a person reads when a form has no such key.</summary>
    public const string NotWhole = "This form is not whole. Send it once more.";

    public static string New() => Guid.NewGuid().ToString("N");

    /// <summary>Whether it can be one: of this program, or of a phone that made its own.</summary>
    public static bool IsWhole(string key) => Shape().IsMatch(key);

    [GeneratedRegex("^[A-Za-z0-9-]{16,80}$")]
    private static partial Regex Shape();
}
