using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>
/// Time whose raw readings are gone: the sums of its hours are final, so where a station stood then cannot be changed any more.
/// </summary>
internal static class FinalTime
{
    /// <summary>Why a change may not be made; null when it concerns later time only.</summary>
    /// <param name="upTo">The last instant that is final; null while none is.</param>
    /// <param name="changedFrom">The first instant at which the station's place would be another.</param>
    /// <param name="zone">The zone to say it in.</param>
    public static string? Refusal(DateTimeOffset? upTo, DateTimeOffset changedFrom, TimeZoneInfo zone) =>
        changedFrom < upTo ? $"{Sentence(upTo.Value, zone)} Where the station stood until then can no longer be changed." : null;

    public static string Sentence(DateTimeOffset upTo, TimeZoneInfo zone) =>
        $"The figures up to {LocalTimes.Say(upTo, zone)} are final: their raw readings are no longer kept.";
}
