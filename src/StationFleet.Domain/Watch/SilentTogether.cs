namespace StationFleet.Domain.Watch;

/// <summary>Stations that fell silent at the same time: one cause, one ticket.</summary>
/// <param name="Codes">Their codes, in order; the first one's ticket speaks for all.</param>
public sealed record SilentTogether(IReadOnlyList<string> Codes)
{
    private const int LeastStations = 3;
    private static readonly TimeSpan SilentFor = TimeSpan.FromHours(1);
    private static readonly TimeSpan Within = TimeSpan.FromMinutes(45);

    /// <summary>The station whose ticket speaks for all.</summary>
    public string Leader => Codes[0];

    /// <summary>The others in words, seen from one of them.</summary>
    /// <param name="code">Its code.</param>
    public string OthersOf(string code)
    {
        string[] others = [.. Codes.Where(other => other != code)];
        return others.Length == 1 ? others[0] : $"{string.Join(", ", others[..^1])} and {others[^1]}";
    }

    /// <summary>Finds stations that fell silent together: three or more, and more than half of those that ought to report.</summary>
    /// <param name="stations">The stations that ought to report, each with its code and when its last report arrived.</param>
    /// <param name="now">The present instant.</param>
    /// <returns>They, or null when there are none.</returns>
    public static SilentTogether? Find(IReadOnlyCollection<(string Code, DateTimeOffset LastHeard)> stations, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(stations);
        (string Code, DateTimeOffset LastHeard)[] silent =
            [.. stations.Where(station => now - station.LastHeard > SilentFor).OrderBy(station => station.LastHeard)];
        IReadOnlyList<string> best = [];
        for (int first = 0; first < silent.Length; first++)
        {
            string[] together =
                [.. silent.Skip(first).TakeWhile(station => station.LastHeard - silent[first].LastHeard <= Within).Select(station => station.Code)];
            best = together.Length > best.Count ? together : best;
        }

        return best.Count >= LeastStations && 2 * best.Count > stations.Count
            ? new SilentTogether([.. best.Order(StringComparer.Ordinal)])
            : null;
    }
}
