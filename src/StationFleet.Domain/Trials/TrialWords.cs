using StationFleet.Domain.Quantities;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Trials;

/// <summary>A comparison in words.</summary>
public static class TrialWords
{
    /// <summary>What the new limits would have changed, in a sentence.</summary>
    /// <param name="comparison">The tickets of both limits.</param>
    /// <param name="isSoFar">Whether the season is still running.</param>
    public static string Headline(TrialComparison comparison, bool isSoFar)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        string season = isSoFar ? "the season so far" : "the season";
        if (comparison.Pairs.Count == 0)
        {
            return $"Neither would have raised a ticket in {season}.";
        }

        IReadOnlyList<string> changes = [.. Changes(comparison)];
        if (changes.Count == 0)
        {
            return comparison.New == 1
                ? $"With the new limits {season} would have brought the same ticket, within the same hour."
                : $"With the new limits {season} would have brought the same {Tickets(comparison.New)}, each within the same hour.";
        }

        string count = comparison.New == comparison.Today
            ? $"{Tickets(comparison.New)}, as many as with today's"
            : $"{Tickets(comparison.New)} instead of {NumberWords.Figures(comparison.Today)}";
        return $"With the new limits {season} would have brought {count}: {string.Join(", ", changes)}.";
    }

    /// <summary>How the two tickets of a pair lie to each other: «both, 14 hours earlier».</summary>
    /// <param name="pair">The pair.</param>
    public static string Which(TicketPair pair)
    {
        ArgumentNullException.ThrowIfNull(pair);
        return pair switch
        {
            { New: null, IsWithin: true } => "only with today's limits; with the new ones an earlier ticket was still open",
            { Today: null, IsWithin: true } => "only with the new limits; with today's an earlier ticket was still open",
            { New: null } => "only with today's limits",
            { Today: null } => "only with the new limits",
            _ when pair.Earlier!.Value.Duration() < TicketPair.Hardly => "both, within the same hour",
            _ => $"both, {Difference(pair.Earlier!.Value)} with the new limits",
        };
    }

    private static IEnumerable<string> Changes(TrialComparison comparison)
    {
        TimeSpan[] differences = [.. comparison.Pairs.Select(pair => pair.Earlier).OfType<TimeSpan>().Where(by => by.Duration() >= TicketPair.Hardly)];
        if (Told([.. differences.Where(by => by > TimeSpan.Zero)]) is { } earlier)
        {
            yield return earlier;
        }

        if (Told([.. differences.Where(by => by < TimeSpan.Zero)]) is { } later)
        {
            yield return later;
        }

        foreach ((int count, string what) in new[]
        {
            (comparison.Pairs.Count(pair => pair is { Today: null, IsWithin: false }), "that today's limits would not have raised"),
            (comparison.Pairs.Count(pair => pair is { Today: null, IsWithin: true }), "more in the time of one of today's"),
            (comparison.Pairs.Count(pair => pair is { New: null, IsWithin: false }), "not raised"),
            (comparison.Pairs.Count(pair => pair is { New: null, IsWithin: true }), "not raised since one was still open"),
        })
        {
            if (count > 0)
            {
                yield return $"{NumberWords.Count(count)} {what}";
            }
        }
    }

    // «one found 2 days earlier», «three found 3 hours to 2 days later»
    private static string? Told(TimeSpan[] differences)
    {
        if (differences.Length == 0)
        {
            return null;
        }

        (TimeSpan least, TimeSpan most) = (differences.Min(by => by.Duration()), differences.Max(by => by.Duration()));
        string range = TimeWords.Length(least) == TimeWords.Length(most) ? "" : $"{TimeWords.Length(least)} to ";
        return $"{NumberWords.Count(differences.Length)} found {range}{Difference(differences[0] > TimeSpan.Zero ? most : -most)}";
    }

    private static string Difference(TimeSpan earlier) => $"{TimeWords.Length(earlier.Duration())} {(earlier > TimeSpan.Zero ? "earlier" : "later")}";

    private static string Tickets(int count) => count == 1 ? "1 ticket" : $"{NumberWords.Figures(count)} tickets";
}
