namespace StationFleet.Domain.Tanks;

/// <summary>A tank's fill, and the reading that says so.</summary>
/// <param name="Share">Share of capacity.</param>
/// <param name="Reading">What the sensor said.</param>
public sealed record TankSample(double Share, TankReading Reading);

/// <summary>The newest readings of a tank, of which one a little under the middle is believed.</summary>
/// <remarks>
/// A running rank over 75 minutes, at least five readings: two in five lie under it. A sensor that something blocks for up to 40
/// minutes, or that hears a stray echo, does not move it; a real rise does after some fifty minutes. Foam, condensation and the fill
/// stream make false echoes that look like a full tank, so a high reading needs more proof than a low one (common practice, no source).
/// </remarks>
/// <param name="Samples">The readings, oldest first.</param>
public sealed record LevelWindow(IReadOnlyList<TankSample> Samples)
{
    /// <summary>How long a reading counts, while more than <see cref="Least"/> do.</summary>
    public static readonly TimeSpan Length = TimeSpan.FromMinutes(75);

    /// <summary>So many readings count, however old: a station that reports once an hour is believed more slowly.</summary>
    public const int Least = 5;

    /// <summary>No reading yet.</summary>
    public static LevelWindow Empty { get; } = new([]);

    /// <summary>Whether enough readings are there to tell a stray one.</summary>
    public bool IsFull => Samples.Count >= Least;

    /// <summary>The window with one more reading.</summary>
    /// <param name="sample">The reading; later than all before.</param>
    public LevelWindow With(TankSample sample)
    {
        ArgumentNullException.ThrowIfNull(sample);
        int first = 0;
        while (Samples.Count - first >= Least && sample.Reading.At - Samples[first].Reading.At > Length)
        {
            first++;
        }

        return new LevelWindow([.. Samples.Skip(first), sample]);
    }

    /// <summary>How many of the readings were made at an instant or later; all of them without one.</summary>
    /// <param name="from">The instant, or null.</param>
    public int CountFrom(DateTimeOffset? from) => from is null ? Samples.Count : Samples.Count(sample => sample.Reading.At >= from);

    /// <summary>The reading that is believed; null without any.</summary>
    public TankSample? Believed()
    {
        if (Samples.Count == 0)
        {
            return null;
        }

        TankSample[] sorted = [.. Samples];
        Array.Sort(sorted, (one, other) => one.Share.CompareTo(other.Share));
        return sorted[(sorted.Length - 1) * 2 / 5];
    }
}
