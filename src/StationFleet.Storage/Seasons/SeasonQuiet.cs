using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Seasons;

/// <summary>When a station was not required to work, from where it stood, what was closed and when it was laid up.</summary>
internal static class SeasonQuiet
{
    /// <param name="from">From where on it matters.</param>
    /// <param name="end">Up to where it matters.</param>
    /// <param name="placements">The station's placements.</param>
    /// <param name="closures">Closures of any access.</param>
    /// <param name="winters">The station's winters.</param>
    public static IReadOnlyList<QuietPeriod> Of(
        DateTimeOffset from,
        DateTimeOffset end,
        IReadOnlyCollection<Placement> placements,
        IEnumerable<AccessClosure> closures,
        IEnumerable<WinterStorage> winters)
    {
        if (from >= end)
        {
            return [];
        }

        UtcInterval span = new(from, end);
        return
        [
            .. Intervals.Without(span, placements.Select(placement => Within(span, placement.From, placement.To)).OfType<UtcInterval>())
                .Select(gap => new QuietPeriod(QuietReason.InTransit, gap.Start, gap.End)),
            .. from placement in placements
               let stay = Within(span, placement.From, placement.To)
               where stay is not null
               from closure in closures
               where closure.AccessId == placement.AccessId
               let closed = Within(stay, closure.From, closure.To)
               where closed is not null
               select new QuietPeriod(QuietReason.AccessClosed, closed.Start, closed.End),
            .. winters.Select(winter => Within(span, winter.From, winter.To)).OfType<UtcInterval>()
                .Select(winter => new QuietPeriod(QuietReason.Winterized, winter.Start, winter.End)),
        ];
    }

    private static UtcInterval? Within(UtcInterval span, DateTimeOffset from, DateTimeOffset? to)
    {
        DateTimeOffset until = to ?? span.End;
        return from < until ? new UtcInterval(from, until).Intersect(span) : null;
    }
}
