using StationFleet.Domain.Quantities;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Web.Telemetry;

/// <summary>The words for records set aside: what is wrong with a kind, and what a person can do.</summary>
internal static class SetAsideTexts
{
    public static string Title(SetAsideKind kind) => kind switch
    {
        SetAsideKind.Name => "No usable name",
        SetAsideKind.NoNumber => "No number",
        SetAsideKind.Unit => "Wrong unit",
        SetAsideKind.Impossible => "Impossible value",
        SetAsideKind.FastClock => "Clock fast",
        SetAsideKind.UnsetClock => "Clock never set",
        SetAsideKind.RelativeTime => "Time relative to now",
        SetAsideKind.BeforeStation => "Before the station existed",
        SetAsideKind.OtherValue => "A second value",
        SetAsideKind.TooManySeries => "Too many names",
        SetAsideKind.Final => "Too late",
        SetAsideKind.Unreadable => "Unreadable line",
        SetAsideKind.OtherStation => "Another station's line",
        SetAsideKind.Other => "Another reason",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "An unknown kind."),
    };

    /// <summary>What is wrong and what to do about it.</summary>
    public static string Advice(SetAsideKind kind) => kind switch
    {
        SetAsideKind.Name => "The record names no measurement, or with more than 120 characters. Have the controller's program mended and discard these.",
        SetAsideKind.NoNumber => "It holds text, data or a sum; only numbers and booleans count. Have the controller's program mended and discard these.",
        SetAsideKind.Unit => "Its unit does not fit its name. Have the controller's program mended; what it measured in the right unit is not known, so discard these.",
        SetAsideKind.Impossible => "No such value is possible for its name. Look at the sensor and at the controller's program; then discard these.",
        SetAsideKind.FastClock => "The controller's clock is more than ten minutes ahead. Set the clock; when these were measured nobody knows, so discard them.",
        SetAsideKind.UnsetClock => "The controller's clock was never set, or fell back to 1970. Set the clock; when these were measured nobody knows, so discard them.",
        SetAsideKind.RelativeTime => "Its time is relative to now. If the controller has no clock, mark the station so in its settings and retry: each then counts from the moment it came.",
        SetAsideKind.BeforeStation => "Its time lies before the station existed here. If the station is older, correct its first day in its settings and retry; else its clock was slow.",
        SetAsideKind.OtherValue => "The station sent two values for one name and time, and the first stays. Look at the controller's program; then discard these.",
        SetAsideKind.Final => "The raw readings of its time are no longer kept, so the sums of that time are final. It came too late, or was counted before: discard these.",
        SetAsideKind.Unreadable => "A line of a logger's file cannot be read as that file was read. If its columns or its clock were chosen wrongly, bring the file again; then discard these.",
        SetAsideKind.OtherStation => "A line of a logger's file names another station. Bring the file for that station; then discard these.",
        SetAsideKind.TooManySeries => "The station already has 64 names, the most it may have. Have the controller send fewer names and discard these.",
        _ => "See the reason of each record.",
    };

    public static string Headline(int records, IReadOnlyList<string> stations) => (records, stations) switch
    {
        (0, _) => "No record waits for a decision.",
        (1, [var station]) => $"One record of {station} waits for a decision.",
        (_, [var station]) => $"{Count(records)} records of {station} wait for a decision.",
        _ => $"{Count(records)} records of {NumberWords.Count(stations.Count)} stations wait for a decision.",
    };

    /// <summary>What came of trying records again.</summary>
    public static string Said(RetrySetAside.Outcome outcome) => outcome switch
    {
        RetrySetAside.Outcome.Done { Accepted: 0, Repeated: 0, StillAside.Count: 0, Stopped: null } => "There is nothing to try again any more.",
        RetrySetAside.Outcome.Done done => string.Join(' ', Sentences(done)),
        _ => "Nothing was tried: it is gone, or not for your account.",
    };

    private static IEnumerable<string> Sentences(RetrySetAside.Outcome.Done done)
    {
        if (done.Accepted > 0)
        {
            yield return $"{Count(done.Accepted)} {(done.Accepted == 1 ? "is" : "are")} taken now.";
        }

        if (done.Repeated > 0)
        {
            yield return $"{Count(done.Repeated)} {(done.Repeated == 1 ? "was" : "were")} known already.";
        }

        foreach ((string reason, int count) in done.StillAside)
        {
            yield return $"{Count(count)} {(count == 1 ? "stays" : "stay")} set aside: {reason}";
        }

        if (done.Stopped is { } stopped)
        {
            yield return stopped;
        }
    }

    private static string Count(int count) => NumberWords.Capital(NumberWords.Count(count));
}
