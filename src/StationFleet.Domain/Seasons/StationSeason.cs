using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Seasons;

/// <summary>One station's season.</summary>
/// <param name="Id">The station.</param>
/// <param name="Code">Its code.</param>
/// <param name="Place">Where it stands, or stood last; may be empty.</param>
/// <param name="Zone">The time zone of its days.</param>
/// <param name="IsRunning">The season went on there when it was counted.</param>
/// <param name="Figures">Its figures.</param>
/// <param name="Months">Uses by tool and month, for the months that have data.</param>
/// <param name="Tickets">Its tickets, by time of raising.</param>
/// <param name="PumpOuts">Its pump-outs, by time.</param>
public sealed record StationSeason(
    StationId Id,
    string Code,
    string Place,
    TimeZoneInfo Zone,
    bool IsRunning,
    SeasonFigures Figures,
    IReadOnlyList<ToolMonth> Months,
    IReadOnlyList<TicketLine> Tickets,
    IReadOnlyList<CountedPumpOut> PumpOuts)
{
    /// <summary>How the station was through the counted time, without gaps; empty when the season has not begun.</summary>
    public IReadOnlyList<ServiceStretch> Service { get; init; } = [];

    /// <summary>Runs of local days that were required whole and have no data at all, by time.</summary>
    public IReadOnlyList<(DateOnly First, DateOnly Last)> Gaps { get; init; } = [];

    /// <summary>What its tank held at the end of each local day that has a measurement, by time.</summary>
    public IReadOnlyList<TankVolume> Tank { get; init; } = [];

    /// <summary>Its visits without minutes written down.</summary>
    public int VisitsWithoutMinutes { get; init; }

    internal static StationSeason Of(SeasonStation station, Season season, DateTimeOffset asOf)
    {
        StationSetup setup = station.Setup;
        UtcInterval? window = season.Window(setup.Zone, asOf);
        IReadOnlyList<UtcInterval> counted = window is null ? [] : station.Counted(window);
        IReadOnlyList<UtcInterval> required = [.. counted.SelectMany(span => RequiredTime(setup, span))];
        (TicketRecord Ticket, TicketHistory History)[] tickets = window is null ? [] : TicketsIn(window, counted, station.Tickets);
        TicketLine[] lines = [.. tickets.Select(ticket => Line(ticket.Ticket, ticket.History)).OrderBy(line => line.Raised)];
        CountedPumpOut[] pumpOuts = window is null
            ? []
            : [.. Seasons.PumpOuts.Count(station.PumpOuts).Where(pumpOut => IsIn(counted, pumpOut.At))];
        VisitRecord[] visits = [.. station.Visits.Where(visit => IsIn(counted, visit.At))];
        ToolUsesDay[] uses = [.. station.Uses.Where(day => season.Contains(day.Day))];

        return new StationSeason(
            station.Id, setup.Code, station.Place, setup.Zone,
            season.Contains(LocalCalendar.DateOf(asOf, setup.Zone)),
            new SeasonFigures
            {
                HoursWithData = HoursWithData(station.Reporting, required, setup.Zone),
                Uses = uses.Sum(day => day.Total),
                UsesOnUncertainDay = uses.Sum(day => day.AcrossDays),
                Restarts = uses.Sum(day => day.Uncertain),
                UseSessions = station.UseHours.Where(day => season.Contains(day.Day)).Sum(day => day.Hours),
                LitresTakenIn = counted.Sum(span => LitresTakenIn(station, span, pumpOuts)),
                Visits = visits.Length,
                VisitTime = Time(visits),
                VisitTimePaid = Time(visits.Where(visit => visit.Hours == HoursKind.Paid)),
                VisitTimeMatch = Time(visits.Where(visit => visit.Hours == HoursKind.Match)),
                VisitTimeVolunteer = Time(visits.Where(visit => visit.Hours == HoursKind.Volunteer)),
                Cost = station.Cost,
                Boats = window is null
                    ? BoatCounts.None
                    : BoatCounts.Of(
                        setup.Code, [.. station.Counts.Where(shift => window.Contains(shift.From))], window, required, setup.Zone, uses.Sum(day => day.Total)),
                PumpOuts = pumpOuts.Length,
                LitresPumpedOut = pumpOuts.Sum(pumpOut => pumpOut.Litres),
                LitresPumpedOutUncertainty = Sums.Known(pumpOuts.Select(pumpOut => pumpOut.UncertaintyLitres)),
                LitresInTank = LitresInTank(station, counted),
                TicketsRaised = lines.Count(line => IsIn(counted, line.Raised)),
                TicketsClosed = lines.Count(line => line.Done is not null),
                TicketsOpen = lines.Count(line => line.Done is null),
                MedianTimeToClose = Medians.Of(lines.Select(line => line.TimeToClose).OfType<TimeSpan>()),
                Availability = window is null
                    ? Availability.None
                    : Availability.Over(window, required, StationFailures.Join(tickets.SelectMany(ticket => ticket.History.Down))),
            },
            ByMonth(uses, setup.Tools), lines, pumpOuts)
        {
            Service = window is null ? [] : ServiceStretch.Of(window, required, [.. tickets.SelectMany(ticket => ticket.History.Down)]),
            VisitsWithoutMinutes = visits.Count(visit => visit.Time is null),
            Gaps = window is null ? [] : GapsIn(station.Reporting, required, window, setup.Zone),
            Tank =
            [
                .. station.TankDays.Where(reading => window?.Start <= reading.At && reading.At <= window.End)
                    .Select(reading => (reading.At, Volume: setup.Tank.Read(reading)))
                    .Where(reading => reading.Volume is not null)
                    .Select(reading => new TankVolume(reading.At, reading.Volume!.Litres)),
            ],
        };

        TicketLine Line(TicketRecord ticket, TicketHistory history) => new(
            ticket.Number, ticket.Rule, setup.Tools.LastOrDefault(tool => tool.Slug == ticket.Part)?.Name ?? ticket.Part,
            ticket.Raised, history.Done, history.IsOpen ? null : ticket.Outcome,
            Availability.Over(window!, required, history.Down).DownTime);
    }

    // Counted are tickets that were open at some time of the counted one.
    private static (TicketRecord Ticket, TicketHistory History)[] TicketsIn(
        UtcInterval window, IReadOnlyList<UtcInterval> counted, IEnumerable<TicketRecord> tickets) =>
    [
        .. from ticket in tickets
           where ticket.Raised < window.End
           let history = TicketHistory.Until(ticket, window.End)
           where counted.Any(span => ticket.Raised < span.End && (history.IsOpen || history.Done >= span.Start))
           select (ticket, history),
    ];

    private static bool IsIn(IReadOnlyList<UtcInterval> counted, DateTimeOffset at) => counted.Any(span => span.Contains(at));

    private static TimeSpan Time(IEnumerable<VisitRecord> visits) => TimeSpan.FromTicks(visits.Sum(visit => visit.Time?.Ticks ?? 0));

    // The end is included: the reading that closes the season's last hour is taken at midnight.
    private static double? LitresInTank(SeasonStation station, IReadOnlyList<UtcInterval> counted) =>
        station.Tank is { } reading && counted.Any(span => span.Start <= reading.At && reading.At <= span.End)
            ? station.Setup.Tank.Read(reading)?.Litres
            : null;

    // Pumped out, plus what was in at the end, less what was in at the beginning; an emptied tank cannot have given back.
    private static double LitresTakenIn(SeasonStation station, UtcInterval window, CountedPumpOut[] pumpOuts)
    {
        double pumped = pumpOuts.Where(pumpOut => window.Contains(pumpOut.At)).Sum(pumpOut => pumpOut.Litres);
        TankReading? last = station.TankDays.LastOrDefault(reading => reading.At >= window.Start && reading.At <= window.End);
        if ((last is null ? LitresInTank(station, [window]) : station.Setup.Tank.Read(last)?.Litres) is not { } atEnd)
        {
            return pumped;
        }

        TankReading? before = station.TankDays.LastOrDefault(reading => reading.At <= window.Start && reading.At > window.Start.AddDays(-3));
        TankReading? first = before ?? station.TankDays.FirstOrDefault(reading => reading.At > window.Start && reading.At <= window.End);
        double atStart = first is null ? 0 : station.Setup.Tank.Read(first)?.Litres ?? 0;
        return Math.Max(0, pumped + atEnd - atStart);
    }

    private static List<(DateOnly First, DateOnly Last)> GapsIn(
        IEnumerable<ReportingDay> reporting, IReadOnlyList<UtcInterval> required, UtcInterval window, TimeZoneInfo zone)
    {
        HashSet<DateOnly> heard = [.. reporting.Where(day => day.HoursWithData > 0).Select(day => day.Day)];
        List<(DateOnly First, DateOnly Last)> gaps = [];
        for (DateOnly day = LocalCalendar.DateOf(window.Start, zone); LocalCalendar.Day(day, zone).End <= window.End; day = day.AddDays(1))
        {
            UtcInterval whole = LocalCalendar.Day(day, zone);
            if (heard.Contains(day) || Intervals.SharedLength(whole, required) < whole.End - whole.Start)
            {
                continue;
            }

            if (gaps.Count > 0 && gaps[^1].Last.AddDays(1) == day)
            {
                gaps[^1] = (gaps[^1].First, day);
            }
            else
            {
                gaps.Add((day, day));
            }
        }

        return gaps;
    }

    private static IReadOnlyList<UtcInterval> RequiredTime(StationSetup setup, UtcInterval window)
    {
        DateTimeOffset from = setup.Created > window.Start ? setup.Created : window.Start;
        return from >= window.End
            ? []
            : Intervals.Without(new UtcInterval(from, window.End), setup.Quiet
                .Where(quiet => quiet.From < (quiet.To ?? window.End))
                .Select(quiet => new UtcInterval(quiet.From, quiet.To ?? window.End)));
    }

    // Day rows do not say which hours of the day had data: no day counts more hours than were required on it.
    private static double HoursWithData(
        IEnumerable<ReportingDay> days, IReadOnlyList<UtcInterval> required, TimeZoneInfo zone) =>
        days.Sum(day => Math.Min(
            day.HoursWithData, Intervals.SharedLength(LocalCalendar.Day(day.Day, zone), required).TotalHours));

    private static ToolMonth[] ByMonth(IEnumerable<ToolUsesDay> uses, IReadOnlyList<ToolSetup> tools) =>
    [
        .. uses.GroupBy(day => (day.Tool, Month: new DateOnly(day.Day.Year, day.Day.Month, 1)))
            .OrderBy(month => month.Key.Tool, StringComparer.Ordinal).ThenBy(month => month.Key.Month)
            .Select(month =>
            {
                ToolSetup? tool = tools.LastOrDefault(tool => tool.Slug == month.Key.Tool);
                return new ToolMonth(
                    month.Key.Tool, tool?.Name ?? month.Key.Tool, tool?.Kind ?? ToolKind.Other, month.Key.Month,
                    month.Sum(day => day.Total), month.Sum(day => day.AcrossDays), month.Sum(day => day.Uncertain));
            }),
    ];
}
