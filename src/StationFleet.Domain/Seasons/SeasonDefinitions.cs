namespace StationFleet.Domain.Seasons;

/// <summary>The definitions of a season's figures.</summary>
public static class SeasonDefinitions
{
    private const string Ours = "Definition of this program";
    private const string Availability192 = "IEC 60050-192 (192-01-23, 192-02-21) and EN 15341:2019 (M10): availability over required time";

    /// <summary>Days in service.</summary>
    public static FigureDefinition DaysInService { get; } = new(
        "days_in_service", "Days in service", FigureUnit.Days,
        "Required time as days of 24 hours. Required is the time from the season's first local day through its last (or until now, "
        + "while the season runs) in which the station existed, was not winterized, stood at an access, and the access was open.",
        "EN 15341:2019, required time; what is required is a definition of this program");

    /// <summary>Required hours.</summary>
    public static FigureDefinition RequiredHours { get; } = new(
        "required_hours", "Required time", FigureUnit.Hours, "The same time in hours; days of a clock change have 23 or 25.",
        "EN 15341:2019, required time");

    /// <summary>Reporting coverage.</summary>
    public static FigureDefinition ReportingCoverage { get; } = new(
        "reporting_coverage", "Reporting coverage", FigureUnit.Share,
        "Clock hours with data divided by required hours. A day's hours with data are those of the measurement that has the most; "
        + "no day counts more hours than were required on it. Uses and levels of the hours without data are not known.",
        Ours);

    /// <summary>Tool uses.</summary>
    public static FigureDefinition Uses { get; } = new(
        "uses", "Tool uses", FigureUnit.Count,
        "How far the tools' counters rose on the season's local days, gaps and service visits included: known to the hour, spread "
        + "over several hours of one day, or spread over several days.",
        Ours);

    /// <summary>Uses on an uncertain day.</summary>
    public static FigureDefinition UsesOnUncertainDay { get; } = new(
        "uses_on_uncertain_day", "Of which on an uncertain day", FigureUnit.Count,
        "Uses counted between two readings that lie on different days, as in a gap. They stand on the later day, so a month (and "
        + "at its edges the season) may hold uses of the one before.",
        Ours);

    /// <summary>Counter restarts.</summary>
    public static FigureDefinition Restarts { get; } = new(
        "counter_restarts", "Counter restarts", FigureUnit.Count,
        "Times that a tool's counter began again. The uses between the last reading and the restart are lost, so the true uses are "
        + "at least those shown.",
        Ours);

    /// <summary>Use sessions.</summary>
    public static FigureDefinition UseSessions { get; } = new(
        "use_sessions", "Use sessions", FigureUnit.Count,
        "Clock hours in which at least one tool of a station was used: uses of one station in the same clock hour (N = 60 minutes) are "
        + "taken for one boat's. Two boats in an hour count once, so this is a low estimate of boats, the lower the busier a station is.",
        Ours);

    /// <summary>Pump-outs.</summary>
    public static FigureDefinition PumpOuts { get; } = new(
        "pump_outs", "Pump-outs", FigureUnit.Count,
        "Emptyings of the waste tank. What the sensor saw and what a person wrote down within 6 hours of it is one pump-out.",
        Ours);

    /// <summary>Volume pumped out.</summary>
    public static FigureDefinition PumpedOut { get; } = new(
        "litres_pumped_out", "Pumped out", FigureUnit.Volume,
        "The volume that the pump-outs took away: by the sensor's fall in level where it saw it, else as a person wrote it down.",
        Ours);

    /// <summary>Uncertainty of the volume pumped out.</summary>
    public static FigureDefinition PumpedOutUncertainty { get; } = new(
        "litres_pumped_out_uncertainty", "Of which uncertain, ±", FigureUnit.Volume,
        "Standard uncertainty of the volume that the sensors saw go: for each pump-out the larger of the sensor's own and the root "
        + "mean square of the differences from the last ten dips, times the tank's capacity; added up as they stand, since one "
        + "sensor's error is the same at each pump-out. What only a person wrote down has none.",
        "JCGM 100:2008 (GUM), 5.2.2 note 1: fully correlated inputs add up; what stands for the sensor is a definition of this program");

    /// <summary>Volume that flowed in.</summary>
    public static FigureDefinition TakenIn { get; } = new(
        "litres_taken_in", "Taken in", FigureUnit.Volume,
        "Waste water that flowed into the tanks on these days: pumped out, plus what each tank held at their end, less what it held at "
        + "their beginning (its last measurement of the three days before, else its first of these days). A tank period that straddles "
        + "an edge is so split by what flowed in on each side. Without a tank sensor it is what was pumped out.",
        Ours);

    /// <summary>Volume in the tank.</summary>
    public static FigureDefinition InTank { get; } = new(
        "litres_in_tank", "In the tank", FigureUnit.Volume,
        "What the waste tank held at the season's last measurement, or the newest while the season runs; the sum of the tanks that "
        + "were measured. Not part of what was pumped out.",
        Ours);

    /// <summary>Tickets raised.</summary>
    public static FigureDefinition TicketsRaised { get; } = new(
        "tickets_raised", "Tickets raised", FigureUnit.Count, "Tickets that the watch raised in the season.", Ours);

    /// <summary>Tickets closed.</summary>
    public static FigureDefinition TicketsClosed { get; } = new(
        "tickets_closed", "Tickets closed", FigureUnit.Count,
        "Tickets whose work was done in the season, also those raised before it, with any outcome. A ticket that came back counts "
        + "as closed only once it is closed again.",
        Ours);

    /// <summary>Tickets open.</summary>
    public static FigureDefinition TicketsOpen { get; } = new(
        "tickets_open", "Still open", FigureUnit.Count, "Tickets open at the season's end, or now while it runs.", Ours);

    /// <summary>Median time to close.</summary>
    public static FigureDefinition MedianTimeToClose { get; } = new(
        "median_hours_to_close", "Median time to close", FigureUnit.Hours,
        "The middle of the times from raised until the work was done, nights and waiting included, of the tickets closed in the "
        + "season. The time is that of the work at the station, not that of its arrival at the server.",
        Ours);

    /// <summary>Service visits.</summary>
    public static FigureDefinition Visits { get; } = new(
        "visits", "Service visits", FigureUnit.Count, "Visits that a person wrote down, with a ticket or without.", Ours);

    /// <summary>Hours at the stations.</summary>
    public static FigureDefinition VisitHours { get; } = new(
        "visit_hours", "Work at the stations", FigureUnit.Hours,
        "Minutes at the stations that people wrote down with their visits, as hours; a visit without minutes adds none.",
        Ours);

    /// <summary>Of the hours at the stations, those that the award paid.</summary>
    public static FigureDefinition VisitHoursPaid { get; } = new(
        "visit_hours_paid", "Of which paid", FigureUnit.Hours,
        "Hours at the stations of visits marked as paid from an award. Visits whose kind nobody said are in none of the three kinds.", Ours);

    /// <summary>Of the hours at the stations, the match.</summary>
    public static FigureDefinition VisitHoursMatch { get; } = new(
        "visit_hours_match", "Of which match", FigureUnit.Hours, "Hours at the stations of visits marked as the agency's match.", Ours);

    /// <summary>Of the hours at the stations, the volunteers'.</summary>
    public static FigureDefinition VisitHoursVolunteer { get; } = new(
        "visit_hours_volunteer", "Of which volunteers'", FigureUnit.Hours, "Hours at the stations of visits marked as a volunteer's.", Ours);

    /// <summary>Cost.</summary>
    public static FigureDefinition Cost { get; } = new(
        "cost", "Cost", FigureUnit.Money,
        "Hours at their rates and money spent, booked on these days, in the installation's currency: paid, match and volunteers' together, "
        + "reversals taken off. What names no station stands in the figure of all stations together only. Empty when nothing is booked.",
        "2 CFR 200.329(c)(2) asks for unit costs where they are useful; what is counted is a definition of this program");

    /// <summary>Cost per use session.</summary>
    public static FigureDefinition CostPerSession { get; } = new(
        "cost_per_use_session", "Cost per use session", FigureUnit.Money,
        "Cost divided by use sessions. Sessions are a low estimate, so this is a high one.",
        "2 CFR 200.329(c)(2): unit costs; the division is a definition of this program");

    /// <summary>Availability.</summary>
    public static FigureDefinition AvailabilityShare { get; } = new(
        "availability", "Availability", FigureUnit.Share,
        "Up time divided by required time. A station is down from the raising of a ticket until its work is done or the problem "
        + "clears by itself, whichever comes first; tickets that overlap count once; only required time counts.",
        Availability192);

    /// <summary>Down time.</summary>
    public static FigureDefinition DownHours { get; } = new(
        "down_hours", "Down time", FigureUnit.Hours,
        "Required time in which the station was down, cut at the season's end for what is still open.", Availability192);

    /// <summary>Failures.</summary>
    public static FigureDefinition Failures { get; } = new(
        "failures", "Failures", FigureUnit.Count,
        "Stretches of being down that began in the season; tickets that overlap make one stretch.", Availability192);

    /// <summary>Mean time between failures.</summary>
    public static FigureDefinition MeanTimeBetweenFailures { get; } = new(
        "mean_hours_between_failures", "Mean time between failures", FigureUnit.Hours,
        "Up time divided by failures; empty when none began in the season.", "IEC 60050-192; MIL-HDBK-338B uses the same form");

    /// <summary>Mean time to restoration.</summary>
    public static FigureDefinition MeanTimeToRestoration { get; } = new(
        "mean_hours_to_restoration", "Mean time to restoration", FigureUnit.Hours,
        "Required time from failure until the station worked again, waiting and driving included, of the failures that began and "
        + "ended in the season.",
        "IEC 60050-192 (192-07-23)");

    /// <summary>Mean active repair.</summary>
    public static FigureDefinition MeanActiveRepair { get; } = new(
        "mean_hours_active_repair", "Mean active repair", FigureUnit.Hours,
        "Work at the station without waiting and driving, of the restored failures for which somebody wrote it down.",
        "NASA Systems Engineering Handbook: mean active maintenance time");

    /// <summary>Mean down time.</summary>
    public static FigureDefinition MeanDownTime { get; } = new(
        "mean_hours_down", "Mean down time", FigureUnit.Hours, "Down time divided by the stretches of it, open ones included.",
        "NASA Systems Engineering Handbook: mean down time");

    /// <summary>Organisms in the collected water.</summary>
    public static FigureDefinition OrganismsRemoved { get; } = new(
        "organisms_removed", "Organisms removed", FigureUnit.Count,
        "Organisms in the water that the stations beside one water collected and gave to disposal, of one kind in one calendar year, with "
        + "limits at 95 %: the sampled tank periods, expanded by volume within their months. A month without a sample is not expanded and is "
        + "named; when too few periods were sampled, only the sampled part is given. A period that straddles an edge is split by what flowed "
        + "in. Alive or dead is not determined, and it is no count of introductions prevented. Only kinds known from the water, or released "
        + "by the agency, are shown.",
        "Ratio estimate with sampling in two stages, after Cochran, Sampling Techniques, 1977, ch. 11 (from memory); docs/estimates.md");

    /// <summary>The share of the collected water that was sampled.</summary>
    public static FigureDefinition ShareSampled { get; } = new(
        "share_sampled", "Share of the water sampled", FigureUnit.Share,
        "Litres of the tank periods with an estimate divided by the litres of all periods of known volume on these days.", Ours);

    /// <summary>Organisms in a litre of collected water, by month.</summary>
    public static FigureDefinition Concentration { get; } = new(
        "per_litre", "Organisms in a litre", FigureUnit.Count,
        "Organisms counted in the month's samples divided by the tank water looked through, with limits at 95 % that allow for the scatter "
        + "between tank periods. A month without a sample has none: it is not zero.",
        "docs/estimates.md");

    /// <summary>The definitions of what samples say; they are figures of a water, not of a station.</summary>
    public static IReadOnlyList<FigureDefinition> OfSamples { get; } = [OrganismsRemoved, ShareSampled, Concentration];

    /// <summary>Every definition, in the order in which the figures stand.</summary>
    public static IReadOnlyList<FigureDefinition> All { get; } =
    [
        DaysInService, RequiredHours, ReportingCoverage, Uses, UsesOnUncertainDay, Restarts, UseSessions, .. BoatDefinitions.All, PumpOuts, PumpedOut,
        PumpedOutUncertainty, TakenIn, InTank,
        TicketsRaised, TicketsClosed, TicketsOpen, MedianTimeToClose, Visits, VisitHours, VisitHoursPaid, VisitHoursMatch,
        VisitHoursVolunteer, Cost, CostPerSession, AvailabilityShare, DownHours, Failures,
        MeanTimeBetweenFailures, MeanTimeToRestoration, MeanActiveRepair, MeanDownTime,
    ];
}
