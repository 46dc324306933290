using StationFleet.Domain.Seasons;

namespace StationFleet.Domain.Sampling;

/// <summary>The water in a tank between two emptyings: what a sample stands for.</summary>
/// <param name="Since">The emptying before it; null when none is known.</param>
/// <param name="Until">The emptying that ended it; null while it is still in the tank.</param>
/// <param name="CollectedLitres">What the emptying took out [L]; null while it is still in the tank.</param>
public sealed record TankWater(DateTimeOffset? Since, DateTimeOffset? Until, double? CollectedLitres)
{
    /// <summary>
    /// A sample so soon after an emptying is of the water that went out (our choice, no source): a fresh tank holds nothing to
    /// sample, while sensors and people date an emptying by their next reading and by memory.
    /// </summary>
    public static readonly TimeSpan SampledBefore = TimeSpan.FromHours(1);

    /// <summary>How long the water had been gathering.</summary>
    /// <param name="at">When it was sampled.</param>
    /// <returns>Null when no emptying before it is known.</returns>
    public TimeSpan? AgeAt(DateTimeOffset at) => at - Since;

    /// <summary>The water that was sampled.</summary>
    /// <param name="sampledAt">When.</param>
    /// <param name="emptyings">The station's emptyings, each once, in any order.</param>
    public static TankWater Of(DateTimeOffset sampledAt, IEnumerable<CountedPumpOut> emptyings)
    {
        ArgumentNullException.ThrowIfNull(emptyings);
        CountedPumpOut[] ordered = [.. emptyings.OrderBy(emptying => emptying.At)];
        int end = Array.FindIndex(ordered, emptying => emptying.At + SampledBefore >= sampledAt);
        int before = end < 0 ? ordered.Length - 1 : end - 1;
        return new TankWater(
            before < 0 ? null : ordered[before].At,
            end < 0 ? null : ordered[end].At,
            end < 0 ? null : ordered[end].Litres);
    }
}
