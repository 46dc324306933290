using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Service.Duty;

/// <summary>Hours in which a person answers for an access, week after week.</summary>
/// <param name="Person">Who.</param>
/// <param name="Access">Where; null: at every access.</param>
/// <param name="Days">On which days they begin.</param>
/// <param name="Hours">From when until when, by the access's clock.</param>
public sealed record DutyHours(string Person, AccessId? Access, Weekdays Days, ClockHours Hours);

/// <summary>Days on which a person is away, and who stands in.</summary>
/// <param name="Away">Who is away.</param>
/// <param name="StandIn">Who takes their hours; null: nobody.</param>
/// <param name="FirstDay">The first local day.</param>
/// <param name="LastDay">The last local day.</param>
public sealed record Absence(string Away, string? StandIn, DateOnly FirstDay, DateOnly LastDay);

/// <summary>Who is on duty where and when.</summary>
/// <param name="Hours">The hours of all; those for an access go before those for every access, and earlier ones before later ones.</param>
/// <param name="Absences">Who is away, and who stands in.</param>
public sealed record DutyRoster(IReadOnlyList<DutyHours> Hours, IReadOnlyList<Absence> Absences)
{
    // A stand-in who is away has a stand-in, and so on; two who stand in for each other would go round for ever.
    private const int LongestChain = 5;

    /// <summary>Who is on duty for an access at an instant, the first first.</summary>
    /// <param name="access">The access; null: the station stands nowhere.</param>
    /// <param name="at">The instant.</param>
    /// <param name="zone">The access's time zone.</param>
    public IReadOnlyList<string> OnDuty(AccessId? access, DateTimeOffset at, TimeZoneInfo zone)
    {
        DateOnly today = LocalCalendar.DateOf(at, zone);
        return
        [
            .. InOrder(access)
                .Where(hours => new[] { today.AddDays(-1), today }.Any(date => Stretch(hours, date, zone)?.Contains(at) == true))
                .Select(hours => Present(hours.Person, today))
                .OfType<string>()
                .Distinct(),
        ];
    }

    /// <summary>The first instant at or after another at which somebody is on duty for an access.</summary>
    /// <param name="access">The access; null: the station stands nowhere.</param>
    /// <param name="from">Where to begin.</param>
    /// <param name="until">Where to give up.</param>
    /// <param name="zone">The access's time zone.</param>
    /// <returns>The instant; null when nobody comes on duty before <paramref name="until"/>.</returns>
    public DateTimeOffset? NextOnDuty(AccessId? access, DateTimeOffset from, DateTimeOffset until, TimeZoneInfo zone)
    {
        if (OnDuty(access, from, zone).Count > 0)
        {
            return from;
        }

        // Who is on duty changes where hours begin, and at midnight, where an absence may end.
        DateOnly last = LocalCalendar.DateOf(until, zone);
        List<DateTimeOffset> changes = [];
        for (DateOnly date = LocalCalendar.DateOf(from, zone); date <= last; date = date.AddDays(1))
        {
            changes.Add(LocalCalendar.StartOf(date, zone));
            changes.AddRange(InOrder(access).Select(hours => Stretch(hours, date, zone)).OfType<UtcInterval>().Select(stretch => stretch.Start));
        }

        return changes.Where(change => change > from && change < until).Order()
            .Select(change => (DateTimeOffset?)change)
            .FirstOrDefault(change => OnDuty(access, change!.Value, zone).Count > 0);
    }

    /// <summary>Who has hours that begin on a local date, at any access, in the order of the roster.</summary>
    /// <param name="date">The local date.</param>
    public IReadOnlyList<string> OnDay(DateOnly date) =>
        [.. Hours.Where(hours => hours.Days.Has(date.DayOfWeek)).Select(hours => Present(hours.Person, date)).OfType<string>().Distinct()];

    private IEnumerable<DutyHours> InOrder(AccessId? access) => Hours
        .Where(hours => hours.Access is null || hours.Access == access)
        .OrderBy(hours => hours.Access is null);

    private static UtcInterval? Stretch(DutyHours hours, DateOnly date, TimeZoneInfo zone) =>
        hours.Days.Has(date.DayOfWeek) ? hours.Hours.On(date, zone) : null;

    private string? Present(string person, DateOnly day)
    {
        string? present = person;
        for (int i = 0; i < LongestChain && present is not null; i++)
        {
            if (Absences.FirstOrDefault(absence => absence.Away == present && absence.FirstDay <= day && day <= absence.LastDay) is not { } away)
            {
                return present;
            }

            present = away.StandIn;
        }

        return null;
    }
}
