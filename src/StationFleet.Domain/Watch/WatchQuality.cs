using StationFleet.Domain.Service;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>What one rule asked for.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Raised">Tickets raised or reopened in the period.</param>
/// <param name="LookedAt">Tickets closed in the period by somebody who looked: fixed, or nothing wrong.</param>
/// <param name="NothingWrong">Those of them with nothing wrong.</param>
public sealed record RuleLoad(Rule Rule, int Raised, int LookedAt, int NothingWrong);

/// <summary>A station, rule and part that raised more than one ticket.</summary>
/// <param name="Station">The station's code.</param>
/// <param name="Rule">The rule.</param>
/// <param name="Part">The part: a tool's slug, or empty.</param>
/// <param name="Raised">Tickets raised or reopened in the period.</param>
public sealed record RepeatOffender(string Station, Rule Rule, string Part, int Raised);

/// <summary>A ticket that came soon after one about the same thing had been closed.</summary>
/// <param name="Number">The ticket's number.</param>
/// <param name="Station">The station's code.</param>
/// <param name="Rule">The rule.</param>
/// <param name="Part">The part: a tool's slug, or empty.</param>
/// <param name="ClosedBefore">When the one before was done.</param>
/// <param name="Raised">When it came.</param>
public sealed record SoonRepeat(int Number, string Station, Rule Rule, string Part, DateTimeOffset ClosedBefore, DateTimeOffset Raised);

/// <summary>A ticket that is open for too long.</summary>
/// <param name="Number">The ticket's number.</param>
/// <param name="Station">The station's code.</param>
/// <param name="Rule">The rule.</param>
/// <param name="Part">The part: a tool's slug, or empty.</param>
/// <param name="Since">Since when.</param>
public sealed record StaleTicket(int Number, string Station, Rule Rule, string Part, DateTimeOffset Since);

/// <summary>A day with more new tickets than a technician can work off in a week.</summary>
/// <param name="Day">The local day.</param>
/// <param name="Raised">Tickets raised or reopened on it.</param>
public sealed record FloodDay(DateOnly Day, int Raised);

/// <summary>How well the watch serves the people whom it sends, over a period: what it asked for, and what came of that.</summary>
/// <remarks>After the performance figures of alarm management as quoted of ANSI/ISA-18.2-2016 and IEC 62682; see <see cref="FieldBudget"/>.</remarks>
public sealed record WatchQuality
{
    /// <summary>The share of visits for nothing that is too much, 0 to 1 (this project's target, no published source).</summary>
    public const double MostNothingWrong = 0.1;

    /// <summary>The share of the most frequent repeat offenders that is too much, 0 to 1 (this project's target, no published source).</summary>
    public const double MostOffenders = 0.3;

    /// <summary>So many stale tickets are too many.</summary>
    public const int TooManyStale = 2;

    /// <summary>How many repeat offenders count.</summary>
    public const int OffendersCounted = 3;

    /// <summary>A ticket that comes within this time after closing is a repeat.</summary>
    public static readonly TimeSpan RepeatWithin = TimeSpan.FromDays(7);

    /// <summary>A shorter period tells little (alarm management asks for 30 days).</summary>
    public static readonly TimeSpan Telling = TimeSpan.FromDays(30);

    /// <summary>Weeks of the period, whole or not.</summary>
    public required double Weeks { get; init; }

    /// <summary>What people can do.</summary>
    public required FieldBudget Budget { get; init; }

    /// <summary>Tickets raised or reopened in the period.</summary>
    public required int Raised { get; init; }

    /// <summary>By rule, the busiest first.</summary>
    public required IReadOnlyList<RuleLoad> ByRule { get; init; }

    /// <summary>Tickets closed in the period without the work.</summary>
    public required int NotDone { get; init; }

    /// <summary>Tickets that closed by themselves in the period.</summary>
    public required int ClearedByItself { get; init; }

    /// <summary>The repeat offenders, the most frequent first; at most <see cref="OffendersCounted"/>.</summary>
    public required IReadOnlyList<RepeatOffender> Offenders { get; init; }

    /// <summary>Tickets that came soon after closing.</summary>
    public required IReadOnlyList<SoonRepeat> Repeats { get; init; }

    /// <summary>Tickets open for too long at the period's end, without the snoozed ones.</summary>
    public required IReadOnlyList<StaleTicket> Stale { get; init; }

    /// <summary>Days with too many tickets.</summary>
    public required IReadOnlyList<FloodDay> Floods { get; init; }

    /// <summary>Median time from raised to taken, of those that were taken; null when none was.</summary>
    public required TimeSpan? MedianToTake { get; init; }

    /// <summary>Median time from raised to done, of those that are closed; null when none is.</summary>
    public required TimeSpan? MedianToClose { get; init; }

    /// <summary>Tickets closed in the period by somebody who looked: fixed, or nothing wrong.</summary>
    public int LookedAt => ByRule.Sum(rule => rule.LookedAt);

    /// <summary>Those of them with nothing wrong.</summary>
    public int NothingWrong => ByRule.Sum(rule => rule.NothingWrong);

    /// <summary>Visits asked for, per technician and week.</summary>
    public double PerTechnicianWeek => Weeks > 0 ? Raised / Weeks / Budget.Technicians : 0;

    /// <summary>How that compares with the budget.</summary>
    public WatchLoad Load => Budget.Judge(PerTechnicianWeek);

    /// <summary>The share of the visits that were for nothing, 0 to 1; null when nobody has looked at any.</summary>
    public double? NothingWrongShare => LookedAt > 0 ? (double)NothingWrong / LookedAt : null;

    /// <summary>The share of the tickets that the repeat offenders raised, 0 to 1; null without tickets.</summary>
    public double? OffenderShare => Raised > 0 ? (double)Offenders.Sum(offender => offender.Raised) / Raised : null;

    /// <summary>Judges a period.</summary>
    /// <param name="tickets">All tickets that were open at some time in the period or the week before; more do no harm.</param>
    /// <param name="period">The period, without times of which there are no data.</param>
    /// <param name="zone">In which zone days are counted.</param>
    /// <param name="budget">What people can do.</param>
    public static WatchQuality Of(IReadOnlyList<TicketLife> tickets, UtcInterval period, TimeZoneInfo zone, FieldBudget budget)
    {
        ArgumentNullException.ThrowIfNull(tickets);
        ArgumentNullException.ThrowIfNull(budget);
        List<(TicketLife Ticket, TicketSpell Spell)> spells =
            [.. from ticket in tickets from spell in ticket.Spells where spell.Opened < period.End orderby spell.Opened select (ticket, spell)];
        List<(TicketLife Ticket, TicketSpell Spell)> raised = spells.FindAll(one => one.Spell.Opened >= period.Start);
        List<(TicketLife Ticket, TicketSpell Spell)> closed = spells.FindAll(one => one.Spell.Closed >= period.Start && one.Spell.Closed < period.End);
        return new WatchQuality
        {
            Weeks = (period.End - period.Start).TotalDays / 7,
            Budget = budget,
            Raised = raised.Count,
            ByRule = Rules(raised, closed),
            NotDone = closed.Count(one => one.Spell.Outcome == TicketOutcome.NotDone),
            ClearedByItself = closed.Count(one => one.Spell.Outcome == TicketOutcome.ClearedByItself),
            Offenders =
            [
                .. raised.GroupBy(one => (one.Ticket.Station, one.Ticket.Rule, one.Ticket.Part))
                    .Select(pair => new RepeatOffender(pair.Key.Station, pair.Key.Rule, pair.Key.Part, pair.Count()))
                    .Where(pair => pair.Raised > 1)
                    .OrderByDescending(pair => pair.Raised).ThenBy(pair => pair.Station, StringComparer.Ordinal).ThenBy(pair => pair.Rule)
                    .Take(OffendersCounted),
            ],
            Repeats = [.. raised.Select(one => RepeatOf(one, spells)).OfType<SoonRepeat>()],
            Stale =
            [
                .. from one in spells
                   where !(one.Spell.Closed < period.End) && period.End - one.Spell.Opened > TimeSpan.FromDays(budget.StaleAfterDays)
                       && !(one.Ticket.SnoozedUntil > period.End)
                   select new StaleTicket(one.Ticket.Number, one.Ticket.Station, one.Ticket.Rule, one.Ticket.Part, one.Spell.Opened),
            ],
            Floods =
            [
                .. raised.GroupBy(one => LocalCalendar.DateOf(one.Spell.Opened, zone)).Where(day => day.Count() > budget.VisitsPerWeek)
                    .Select(day => new FloodDay(day.Key, day.Count())),
            ],
            MedianToTake = Median(raised.Where(one => one.Spell.Taken < period.End).Select(one => one.Spell.Taken!.Value - one.Spell.Opened)),
            MedianToClose = Median(raised.Where(one => one.Spell.Closed < period.End).Select(one => one.Spell.Closed!.Value - one.Spell.Opened)),
        };
    }

    private static List<RuleLoad> Rules(
        List<(TicketLife Ticket, TicketSpell Spell)> raised, List<(TicketLife Ticket, TicketSpell Spell)> closed) =>
    [
        .. raised.Concat(closed).Select(one => one.Ticket.Rule).Distinct()
            .Select(rule =>
            {
                TicketOutcome?[] outcomes = [.. closed.Where(one => one.Ticket.Rule == rule).Select(one => one.Spell.Outcome)];
                int nothing = outcomes.Count(outcome => outcome == TicketOutcome.NothingWrong);
                return new RuleLoad(
                    rule, raised.Count(one => one.Ticket.Rule == rule), nothing + outcomes.Count(outcome => outcome == TicketOutcome.Fixed), nothing);
            })
            .OrderByDescending(rule => rule.Raised).ThenBy(rule => rule.Rule),
    ];

    private static SoonRepeat? RepeatOf((TicketLife Ticket, TicketSpell Spell) one, List<(TicketLife Ticket, TicketSpell Spell)> spells)
    {
        (TicketLife ticket, TicketSpell spell) = one;
        DateTimeOffset? before = spells
            .Where(other => other.Ticket.Station == ticket.Station && other.Ticket.Rule == ticket.Rule && other.Ticket.Part == ticket.Part
                && other.Spell.Opened < spell.Opened && other.Spell.Closed <= spell.Opened)
            .Max(other => other.Spell.Closed);
        return spell.Opened - before <= RepeatWithin
            ? new SoonRepeat(ticket.Number, ticket.Station, ticket.Rule, ticket.Part, before!.Value, spell.Opened)
            : null;
    }

    private static TimeSpan? Median(IEnumerable<TimeSpan> lengths)
    {
        TimeSpan[] sorted = [.. lengths.Order()];
        return sorted.Length == 0 ? null : (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
