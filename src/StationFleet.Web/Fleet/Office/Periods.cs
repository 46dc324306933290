namespace StationFleet.Web.Fleet.Office;

/// <summary>Stretches of time [from, to); without an end they last.</summary>
internal static class Periods
{
    public static bool Overlap(DateTimeOffset fromA, DateTimeOffset? toA, DateTimeOffset fromB, DateTimeOffset? toB) =>
        fromA < (toB ?? DateTimeOffset.MaxValue) && fromB < (toA ?? DateTimeOffset.MaxValue);

    public static DateTimeOffset Earlier(DateTimeOffset a, DateTimeOffset b) => a < b ? a : b;

    /// <summary>The later end; none when either lasts.</summary>
    public static DateTimeOffset? LaterEnd(DateTimeOffset? a, DateTimeOffset? b) => a is null || b is null ? null : a > b ? a : b;
}
