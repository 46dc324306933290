using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>How odd a tool's present silence is, in words.</summary>
public static class IdleWords
{
    private const double LongWait = 30;

    /// <summary>What has passed the tool over, and how odd that is.</summary>
    /// <param name="verdict">The verdict; null while the tool's total was never read.</param>
    public static string Silence(IdleVerdict? verdict) => verdict switch
    {
        null => "not counted yet",
        { PassedOver: 0 } => "picked up by the last session",
        _ => $"{Sessions(verdict.PassedOver)} passed it over ({Odds(verdict.Chance)})",
    };

    /// <summary>When it would be an alarm.</summary>
    /// <param name="verdict">The verdict; null while the tool's total was never read.</param>
    public static string Patience(IdleVerdict? verdict) => verdict switch
    {
        null => "–",
        { IsIdle: true } => "now",
        { DaysToAlarm: > LongWait } => "after more than a month: give it a limit of days",
        _ => $"after about {Sessions(verdict.MoreSessions)} more, {TimeWords.Length(TimeSpan.FromDays(verdict.DaysToAlarm))}",
    };

    private static string Sessions(int count) => count == 1 ? "1 session" : $"{NumberWords.Figures(count)} sessions";

    private static string Odds(double chance) => IdleTool.Rounded(1 / chance) switch
    {
        < 4 => "nothing odd",
        >= 1_000_000 => "less than 1 in 1,000,000",
        double oneIn => $"1 in {NumberWords.Figures(oneIn)}",
    };
}
