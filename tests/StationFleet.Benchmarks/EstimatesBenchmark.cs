using System.Globalization;
using StationFleet.Domain.Sampling;

namespace StationFleet.Benchmarks;

/// <summary>A season's removal estimates: 200 tank periods, six taxa in each.</summary>
internal static class EstimatesBenchmark
{
    private const int Periods = 200;
    private const int Taxa = 6;

    public static void Run(int rounds)
    {
        List<TankPeriod> season = [.. Season(isEven: false)];
        List<TankPeriod> even = [.. Season(isEven: true)];
        (List<double> unequal, List<double> equal) = ([], []);
        for (int round = 0; round <= rounds; round++)
        {
            unequal.Add(Time(season));
            equal.Add(Time(even));
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"estimates of a season, {Periods} tank periods of 3 grabs × {Taxa} taxa [s]: {Median.Of(equal[1..]):0.000} of equal grabs, {Median.Of(unequal[1..]):0.000} of unequal ones; the first one {unequal[0]:0.000}"));
    }

    private static double Time(List<TankPeriod> season)
    {
        long started = TimeProvider.System.GetTimestamp();
        IReadOnlyList<RemovalEstimate> estimates = SeasonEstimates.Of(season);
        foreach (Organism organism in estimates.Select(estimate => estimate.Organism).Distinct())
        {
            SeasonTotal.Of(organism, season, estimates);
            MonthRanking.Of(organism, MonthMeasure.Load, season);
        }

        return estimates.Count == Periods * Taxa
            ? TimeProvider.System.GetElapsedTime(started).TotalSeconds
            : throw new InvalidOperationException($"There were {estimates.Count} estimates.");
    }

    // Counts from none to some hundreds, the same in every run.
    private static IEnumerable<TankPeriod> Season(bool isEven)
    {
        Random random = new(1);
        DateOnly first = new(2026, 5, 1);
        for (int i = 0; i < Periods; i++)
        {
            DateOnly from = first.AddDays(i % 150);
            Grab[] grabs =
            [
                .. Enumerable.Range(0, 3).Select(grab => new Grab($"{grab}", 10, 50,
                [
                    new Aliquot(isEven ? 5 : 4 + grab, [.. Enumerable.Range(0, Taxa).Select(taxon =>
                        new OrganismCount($"taxon {taxon}", (int)(Math.Exp(6 * random.NextDouble()) * (0.5 + random.NextDouble())) - 1 is > 0 and var count ? count : 0))]),
                ])),
            ];
            yield return new TankPeriod($"{i}", "S", from, from.AddDays(14), new CollectedWater(120, 6, 2), grabs, []);
        }
    }
}
