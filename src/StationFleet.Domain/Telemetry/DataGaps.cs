using StationFleet.Domain.Time;

namespace StationFleet.Domain.Telemetry;

/// <summary>Stretches of time of which nothing is known of a station.</summary>
public static class DataGaps
{
    /// <summary>A shorter stretch is no gap: stations report every quarter of an hour, coarse loggers every hour.</summary>
    public static readonly TimeSpan Least = TimeSpan.FromHours(2);

    /// <summary>The gaps of a stretch of time; its own ends count as if something were known there.</summary>
    /// <param name="data">Stretches in which something was measured, ascending.</param>
    /// <param name="within">The stretch that is asked about.</param>
    /// <returns>Gaps longer than <see cref="Least"/>, ascending.</returns>
    public static IReadOnlyList<UtcInterval> Of(IEnumerable<(DateTimeOffset First, DateTimeOffset Last)> data, UtcInterval within)
    {
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(within);
        List<UtcInterval> gaps = [];
        DateTimeOffset known = within.Start;
        foreach ((DateTimeOffset first, DateTimeOffset last) in data)
        {
            Add(first < within.End ? first : within.End);
            known = last > known ? last : known;
        }

        Add(within.End);
        return gaps;

        void Add(DateTimeOffset next)
        {
            if (next - known > Least)
            {
                gaps.Add(new UtcInterval(known, next));
            }
        }
    }

    /// <summary>What a file filled: gaps from before it that are none any more.</summary>
    /// <param name="before">The gaps before.</param>
    /// <param name="after">The gaps now.</param>
    /// <param name="file">From the file's first to its last reading.</param>
    public static IReadOnlyList<UtcInterval> Filled(IEnumerable<UtcInterval> before, IReadOnlyList<UtcInterval> after, UtcInterval file)
    {
        ArgumentNullException.ThrowIfNull(before);
        return [.. before.SelectMany(gap => Intervals.Without(gap, after)).Select(filled => filled.Intersect(file)).OfType<UtcInterval>()];
    }
}
