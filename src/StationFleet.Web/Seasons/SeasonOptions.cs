using StationFleet.Domain.Seasons;

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

    /// <summary>The year of the newest season that has begun by a local day.</summary>
    public int NewestYear(DateOnly today) => Of(today.Year).FirstDay <= today ? today.Year : today.Year - 1;

    public Season Of(int year) => Season.Of(year, MonthDay.Parse(FirstDay)!.Value, MonthDay.Parse(LastDay)!.Value);
}
