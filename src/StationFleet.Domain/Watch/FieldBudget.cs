namespace StationFleet.Domain.Watch;

/// <summary>How many visits people can make that nobody planned: what the watch may ask for.</summary>
/// <remarks>
/// The idea is alarm management's: people can answer only so many alarms, and a system that asks for more is ignored. There an
/// alarm costs a minute; here it costs a drive, so hours are the budget. The ratio of what is acceptable to what can just be managed,
/// 1 : 2, is the one quoted of ANSI/ISA-18.2-2016; the translation to drives is this project's, without a published source.
/// </remarks>
/// <param name="Technicians">People who drive; 1 or more.</param>
/// <param name="FieldHoursPerWeek">Hours a week that each is in the field [h]; above 0.</param>
/// <param name="UnplannedShare">The share of them that is free for work nobody planned, above 0 to 1.</param>
/// <param name="HoursPerVisit">Hours that a visit usually takes, the drive included [h]; above 0.</param>
/// <param name="StaleAfterDays">A ticket that is open longer is stale [d]; above 0.</param>
public sealed record FieldBudget(
    int Technicians = 1, double FieldHoursPerWeek = 30, double UnplannedShare = 0.4, double HoursPerVisit = 2.5, int StaleAfterDays = 14)
{
    /// <summary>How many times the budget can just be managed.</summary>
    public const double MostTimes = 2;

    /// <summary>Visits that one technician can make in a week beside what is planned.</summary>
    public double VisitsPerWeek => FieldHoursPerWeek * UnplannedShare / HoursPerVisit;

    /// <summary>More than these nobody keeps up with.</summary>
    public double MostPerWeek => MostTimes * VisitsPerWeek;

    /// <summary>What a load means.</summary>
    /// <param name="perTechnicianWeek">Visits asked for, per technician and week.</param>
    public WatchLoad Judge(double perTechnicianWeek) =>
        perTechnicianWeek <= VisitsPerWeek ? WatchLoad.Within : perTechnicianWeek <= MostPerWeek ? WatchLoad.Over : WatchLoad.TooMuch;
}

/// <summary>How what the watch asks for compares with what people can do.</summary>
public enum WatchLoad
{
    /// <summary>Within the budget.</summary>
    Within,

    /// <summary>Over the budget; can just be managed.</summary>
    Over,

    /// <summary>More than anybody keeps up with: tickets will be ignored.</summary>
    TooMuch,
}
