using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Seasons;

/// <summary>When the season is, the same every year.</summary>
public sealed class SeasonOptions
{
    public const string Section = "Season";

    /// <summary>The season's first local day, as month and day.</summary>
    public string FirstDay { get; set; } = "05-01";

    /// <summary>The season's last local day, as month and day; earlier in the year than the first, it lies in the next year.</summary>
    public string LastDay { get; set; } = "10-15";

    public bool IsValid => MonthDay.Parse(FirstDay) is not null && MonthDay.Parse(LastDay) is not null;

    /// <summary>The years whose season has begun since a station has been there, newest first.</summary>
    public IReadOnlyList<int> Begun(DateTimeOffset created, DateTimeOffset now, TimeZoneInfo zone)
    {
        (DateOnly first, DateOnly today) = (LocalCalendar.DateOf(created, zone), LocalCalendar.DateOf(now, zone));
        return [.. Enumerable.Range(first.Year - 1, today.Year - first.Year + 2).Reverse().Where(year => Of(year).LastDay >= first && Of(year).FirstDay <= today)];
    }

    /// <summary>The year of the newest season that has begun by a local day.</summary>
    public int NewestYear(DateOnly today) => Of(today.Year).FirstDay <= today ? today.Year : today.Year - 1;

    public Season Of(int year) => Season.Of(year, MonthDay.Parse(FirstDay)!.Value, MonthDay.Parse(LastDay)!.Value);
}
