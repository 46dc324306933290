using System.Globalization;

namespace StationFleet.Web.Service.Phone;

/// <summary>How long the phone's queue kept a form before it could send it.</summary>
/// <remarks>A span, not an instant: so a phone whose clock is wrong tells no wrong time.</remarks>
internal static class KeptOnPhone
{
    /// <summary>The form field that the queue fills, in whole seconds; empty or missing when the form was sent at once.</summary>
    public const string Field = "KeptSeconds";

    private static readonly TimeSpan Longest = TimeSpan.FromDays(30);

    /// <summary>None where nothing sensible is written.</summary>
    public static TimeSpan Read(string? typed) =>
        int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out int seconds) && seconds <= Longest.TotalSeconds
            ? TimeSpan.FromSeconds(seconds)
            : TimeSpan.Zero;
}
