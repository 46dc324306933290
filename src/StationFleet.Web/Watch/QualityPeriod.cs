using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Watch;

/// <summary>A stretch of time over which the watch can be judged.</summary>
/// <param name="Key">Its name in addresses.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="Time">When it is; never after now.</param>
internal sealed record QualityPeriod(string Key, string Name, UtcInterval Time)
{
    public const string SeasonKey = "season";

    /// <summary>The choices: the season, the last 30 and the last 90 days; the season comes first.</summary>
    public static IReadOnlyList<QualityPeriod> All(DateTimeOffset now, TimeZoneInfo zone, SeasonOptions seasons)
    {
        DateOnly today = LocalCalendar.DateOf(now, zone);
        Season season = seasons.Of(seasons.NewestYear(today));
        return
        [
            new(SeasonKey, season.Contains(today) ? $"Season {season.Year} so far" : $"Season {season.Year}", season.Window(zone, now) ?? new UtcInterval(now, now)),
            Last(30, now),
            Last(90, now),
        ];
    }

    private static QualityPeriod Last(int days, DateTimeOffset now) => new($"{days}", $"Last {days} days", new UtcInterval(now.AddDays(-days), now));
}
