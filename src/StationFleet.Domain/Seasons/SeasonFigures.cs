using StationFleet.Domain.Counts;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Seasons;

/// <summary>The figures of a season, of one station or of several together; each is defined in <see cref="SeasonDefinitions"/>.</summary>
public sealed record SeasonFigures
{
    /// <summary>Clock hours of required time in which at least one measurement came [h].</summary>
    public required double HoursWithData { get; init; }

    /// <summary>Uses of all tools.</summary>
    public required double Uses { get; init; }

    /// <summary>Of these, uses that were counted over several days and stand on the last of them.</summary>
    public required double UsesOnUncertainDay { get; init; }

    /// <summary>Times that a counter restarted, so that uses may be missing.</summary>
    public required int Restarts { get; init; }

    /// <summary>Clock hours of stations in which a tool was used.</summary>
    public int UseSessions { get; init; }

    /// <summary>What flowed into the tanks [L].</summary>
    public double LitresTakenIn { get; init; }

    /// <summary>Service visits.</summary>
    public int Visits { get; init; }

    /// <summary>Work at the stations, as far as it was written down.</summary>
    public TimeSpan VisitTime { get; init; }

    /// <summary>Of this, what the award paid.</summary>
    public TimeSpan VisitTimePaid { get; init; }

    /// <summary>Of this, what the agency paid as its match.</summary>
    public TimeSpan VisitTimeMatch { get; init; }

    /// <summary>Of this, what volunteers gave.</summary>
    public TimeSpan VisitTimeVolunteer { get; init; }

    /// <summary>What was booked; null when nothing was.</summary>
    public Money? Cost { get; init; }

    /// <summary>Cost divided by use sessions; null without either.</summary>
    public double? CostPerSession => Cost is { } cost && UseSessions > 0 ? (double)cost.Amount / UseSessions : null;

    /// <summary>What count shifts tell of boats.</summary>
    public BoatCounts Boats { get; init; } = BoatCounts.None;

    /// <summary>Pump-outs, each counted once.</summary>
    public required int PumpOuts { get; init; }

    /// <summary>What they took away [L].</summary>
    public required double LitresPumpedOut { get; init; }

    /// <summary>The standard uncertainty of that, as far as sensors saw it [L]; null when none did.</summary>
    public required double? LitresPumpedOutUncertainty { get; init; }

    /// <summary>What the tanks hold at the end of the counted time [L]; null when no tank was measured.</summary>
    public required double? LitresInTank { get; init; }

    /// <summary>Tickets raised in the season.</summary>
    public required int TicketsRaised { get; init; }

    /// <summary>Tickets whose work was done in the season, whenever they were raised.</summary>
    public required int TicketsClosed { get; init; }

    /// <summary>Tickets open at the end of the counted time.</summary>
    public required int TicketsOpen { get; init; }

    /// <summary>From raised until done, of the closed tickets; null without any.</summary>
    public required TimeSpan? MedianTimeToClose { get; init; }

    /// <summary>Required time, down time, failures and their means.</summary>
    public required Availability Availability { get; init; }

    /// <summary>Required time [h].</summary>
    public double RequiredHours => Availability.RequiredTime.TotalHours;

    /// <summary>Required time as days of 24 hours [d].</summary>
    public double DaysInService => RequiredHours / 24;

    /// <summary>Share of the required hours with data, 0 to 1; null when nothing was required.</summary>
    public double? ReportingCoverage => RequiredHours > 0 ? HoursWithData / RequiredHours : null;

    /// <summary>Every figure in the order of <see cref="SeasonDefinitions.All"/>: counts, days, hours, shares and litres.</summary>
    public IReadOnlyList<FigureValue> Listed =>
    [
        new(SeasonDefinitions.DaysInService, DaysInService),
        new(SeasonDefinitions.RequiredHours, RequiredHours),
        new(SeasonDefinitions.ReportingCoverage, ReportingCoverage),
        new(SeasonDefinitions.Uses, Uses),
        new(SeasonDefinitions.UsesOnUncertainDay, UsesOnUncertainDay),
        new(SeasonDefinitions.Restarts, Restarts),
        new(SeasonDefinitions.UseSessions, UseSessions),
        .. BoatDefinitions.Listed(Boats),
        new(SeasonDefinitions.PumpOuts, PumpOuts),
        new(SeasonDefinitions.PumpedOut, LitresPumpedOut),
        new(SeasonDefinitions.PumpedOutUncertainty, LitresPumpedOutUncertainty),
        new(SeasonDefinitions.TakenIn, LitresTakenIn),
        new(SeasonDefinitions.InTank, LitresInTank),
        new(SeasonDefinitions.TicketsRaised, TicketsRaised),
        new(SeasonDefinitions.TicketsClosed, TicketsClosed),
        new(SeasonDefinitions.TicketsOpen, TicketsOpen),
        new(SeasonDefinitions.MedianTimeToClose, MedianTimeToClose?.TotalHours),
        new(SeasonDefinitions.Visits, Visits),
        new(SeasonDefinitions.VisitHours, VisitTime.TotalHours),
        new(SeasonDefinitions.VisitHoursPaid, VisitTimePaid.TotalHours),
        new(SeasonDefinitions.VisitHoursMatch, VisitTimeMatch.TotalHours),
        new(SeasonDefinitions.VisitHoursVolunteer, VisitTimeVolunteer.TotalHours),
        new(SeasonDefinitions.Cost, (double?)Cost?.Amount),
        new(SeasonDefinitions.CostPerSession, CostPerSession),
        new(SeasonDefinitions.AvailabilityShare, Availability.Share),
        new(SeasonDefinitions.DownHours, Availability.DownTime.TotalHours),
        new(SeasonDefinitions.Failures, Availability.Failures),
        new(SeasonDefinitions.MeanTimeBetweenFailures, Availability.MeanTimeBetweenFailures?.TotalHours),
        new(SeasonDefinitions.MeanTimeToRestoration, Availability.MeanTimeToRestoration?.TotalHours),
        new(SeasonDefinitions.MeanActiveRepair, Availability.MeanActiveRepair?.TotalHours),
        new(SeasonDefinitions.MeanDownTime, Availability.MeanDownTime?.TotalHours),
    ];
}
