using System.Globalization;
using StationFleet.Domain.Service.Duty;

namespace StationFleet.Web.Duty;

/// <summary>The words that pages use for the roster.</summary>
internal static class RosterWords
{
    /// <summary>«every day 06:00 to 18:00», «Mon to Fri all day».</summary>
    public static string When(Weekdays days, ClockHours hours) => $"{WeekdaySets.Say(days)} {Of(hours)}";

    /// <summary>«20:00 to 06:30», «all day».</summary>
    public static string Of(ClockHours hours) => hours.From == hours.To ? "all day" : $"{Field(hours.From)} to {Field(hours.To)}";

    /// <summary>As a browser's time field holds it.</summary>
    public static string Field(TimeOnly? time) => time?.ToString("HH:mm", CultureInfo.InvariantCulture) ?? "";

    public static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture);
}
