using System.ComponentModel.DataAnnotations;
using StationFleet.Domain.Service.Duty;

namespace StationFleet.Web.Duty;

/// <summary>When people may be told of tickets, from <c>appsettings.json</c>, the environment or the command line. Times are those of the access.</summary>
public sealed class DutyOptions
{
    public const string Section = "Duty";

    /// <summary>Quiet hours, in which no ticket's mail is sent unless the person chose others: their beginning.</summary>
    public TimeOnly QuietFrom { get; set; } = new(20, 0);

    /// <summary>Their end; the same as the beginning: none.</summary>
    public TimeOnly QuietTo { get; set; } = new(6, 30);

    /// <summary>A ticket that nobody has taken after so many working hours is told to the next people [h]; 0: never.</summary>
    [Range(0, 200)]
    public double EscalateAfterHours { get; set; } = 4;

    /// <summary>Who works alone and is not back is told of so many minutes after the time they gave.</summary>
    [Range(5, 1440)]
    public double TellLateAfterMinutes { get; set; } = 60;

    /// <summary>The days with working hours, such as <c>Monday, Tuesday</c>, <c>WorkingWeek</c> or <c>All</c>.</summary>
    public Weekdays WorkDays { get; set; } = Weekdays.WorkingWeek;

    /// <summary>When working hours begin.</summary>
    public TimeOnly WorkFrom { get; set; } = new(8, 0);

    /// <summary>When they end.</summary>
    public TimeOnly WorkTo { get; set; } = new(17, 0);

    public ClockHours Quiet => new(QuietFrom, QuietTo);

    public WorkingHours Working => new(WorkDays, new ClockHours(WorkFrom, WorkTo));
}
