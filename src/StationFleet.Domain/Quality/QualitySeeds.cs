namespace StationFleet.Domain.Quality;

/// <summary>How busy a simulated station is.</summary>
public enum TrafficLevel
{
    /// <summary>2.9 boats a day on the season's mean.</summary>
    Quiet,

    /// <summary>8.6 boats a day.</summary>
    Middling,

    /// <summary>25.8 boats a day.</summary>
    Busy,
}

/// <summary>What a list of seeds is for.</summary>
public enum SeedSet
{
    /// <summary>For choosing methods and their figures.</summary>
    Tuning,

    /// <summary>For telling how good the rules are. What came out is known since the rules of tank and power were first told of.</summary>
    HeldOut,

    /// <summary>For telling it anew after later work: written down before that work began, and not looked at during it.</summary>
    SecondHeldOut,

    /// <summary>The same once more, after what came of the second was known.</summary>
    ThirdHeldOut,
}

/// <summary>One simulated station-season, by its name.</summary>
/// <param name="Set">The list that it belongs to.</param>
/// <param name="Level">How busy the station is.</param>
/// <param name="Number">Its place in the list, from 0: decides what goes wrong (see <see cref="QualityWorld"/>).</param>
/// <param name="Seed">What all its random numbers start from.</param>
public readonly record struct QualitySeason(SeedSet Set, TrafficLevel Level, int Number, long Seed);

/// <summary>
/// The seeds by which the quality of the watch is told. Each list was written down before the rules that it judges were tuned. The lists
/// share no seed, and each level has its own.
/// </summary>
public static class QualitySeeds
{
    /// <summary>Station-seasons at each level for tuning.</summary>
    public const int TuningSeasons = 300;

    /// <summary>Station-seasons at each level in each list that is held out: a third healthy, two thirds with faults.</summary>
    public const int HeldOutSeasons = 600;

    /// <summary>The seasons of a list at a level, in order.</summary>
    /// <param name="set">The list.</param>
    /// <param name="level">The level.</param>
    /// <returns>Tuning: 110000…, 120000…, 130000… by level; held out: 710000…, 720000…, 730000…; the second: 810000…, 820000…, 830000…; the third: 1010000…, 1020000…, 1030000…; those from 910000 on were looked at once while the work went on, and are spent.</returns>
    public static IReadOnlyList<QualitySeason> Of(SeedSet set, TrafficLevel level)
    {
        (int count, long first) = set switch
        {
            SeedSet.Tuning => (TuningSeasons, 100_000L),
            SeedSet.HeldOut => (HeldOutSeasons, 700_000L),
            SeedSet.SecondHeldOut => (HeldOutSeasons, 800_000L),
            _ => (HeldOutSeasons, 1_000_000L),
        };
        first += 10_000L * ((int)level + 1);
        return [.. Enumerable.Range(0, count).Select(number => new QualitySeason(set, level, number, first + number))];
    }

    /// <summary>Boats a day on the season's mean.</summary>
    /// <param name="level">The level.</param>
    public static double BoatsPerDay(TrafficLevel level) => level switch
    {
        TrafficLevel.Quiet => 2.9,
        TrafficLevel.Middling => 8.6,
        _ => 25.8,
    };
}
