using StationFleet.Domain.Simulation;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>How often the interval held the truth in one regime at one concentration.</summary>
/// <param name="Regime">The regime.</param>
/// <param name="PerLitre">Mean organisms in a litre.</param>
/// <param name="Runs">Invented tanks.</param>
/// <param name="Covered">Those whose truth lay within the interval at 95 %.</param>
/// <param name="UpperToEstimate">Median of upper limit ÷ estimate over the tanks with a find; null when fewer than half had one.</param>
public sealed record CoverageCell(CoverageRegime Regime, double PerLitre, int Runs, int Covered, double? UpperToEstimate)
{
    /// <summary>The share covered, with bounds at 95 % for the luck of the simulation.</summary>
    public Bounded Share => Bounds.ScoreShare(Covered, Runs);
}

/// <summary>Tries the removal estimate on invented tanks whose truth is known.</summary>
/// <remarks>
/// Grabs scatter by a gamma distribution of shape k, counts by chance, the tank's volume lognormally; the other tanks' means are
/// lognormal around the same concentration with a standard deviation of 0.8 on the log scale. The truth is the mean concentration
/// times the true volume; in a tank of which a part was examined that counts, it is the number really in it.
/// </remarks>
public static class CoverageTrial
{
    private const double BetweenTanksLnSd = 0.8;
    private static readonly Organism Any = new("any");

    /// <summary>Tries one regime at one concentration.</summary>
    /// <param name="regime">The regime.</param>
    /// <param name="perLitre">Mean organisms in a litre; positive.</param>
    /// <param name="runs">How many tanks to invent.</param>
    /// <param name="seed">The same seed gives the same result.</param>
    public static CoverageCell Try(CoverageRegime regime, double perLitre, int runs, long seed)
    {
        ArgumentNullException.ThrowIfNull(regime);
        string key = FormattableString.Invariant($"{regime.Name}|{regime.Water}|{regime.VolumeSd}|{perLitre}");
        int covered = 0;
        List<double> ratios = [];
        for (int run = 0; run < runs; run++)
        {
            Dice dice = Dice.For(seed, key, run);
            (RemovalEstimate.Made made, double truth) = Invent(regime, perLitre, dice);
            Bounded organisms = made.Organisms;
            covered += organisms.Low <= truth && truth <= organisms.High ? 1 : 0;
            if (organisms.Value > 0)
            {
                ratios.Add(organisms.High / organisms.Value);
            }
        }

        ratios.Sort();
        return new CoverageCell(regime, perLitre, runs, covered, ratios.Count * 2 < runs ? null : ratios[ratios.Count / 2]);
    }

    private static (RemovalEstimate.Made Made, double Truth) Invent(CoverageRegime regime, double perLitre, Dice dice)
    {
        int[] counts = [.. regime.Grabs.Select(litres => Count(regime, perLitre * litres, dice))];
        CountedGrabs grabs = Grabs(counts, regime.Grabs);
        List<ReplicateSet> sets = [grabs.Replicates];
        for (int tank = 0; tank < regime.OtherTanks; tank++)
        {
            double mean = perLitre * Math.Exp(BetweenTanksLnSd * dice.Normal());
            sets.Add(new ReplicateSet([.. regime.OtherGrabs.Select(litres => Count(regime, mean * litres, dice))], regime.OtherGrabs));
        }

        double examined = regime.Grabs.Sum();
        double truth = perLitre * regime.TankLitres;
        if (examined > RemovalEstimate.FiniteFrom * regime.TankLitres)
        {
            // The rest of the tank, litre by litre.
            truth = counts.Sum();
            for (double litre = examined; litre < regime.TankLitres; litre++)
            {
                truth += Count(regime, perLitre, dice);
            }
        }

        double measuredLitres = regime.TankLitres * Math.Exp(regime.VolumeSd * dice.Normal());
        TankPeriod period = new(
            "P", "S", DateOnly.MinValue, DateOnly.MinValue, new CollectedWater(measuredLitres, regime.VolumeSd * measuredLitres, 0), [], []);
        return ((RemovalEstimate.Made)RemovalEstimate.Of(period, Any, grabs, Patchiness.From(sets)), truth);
    }

    private static CountedGrabs Grabs(int[] counts, IReadOnlyList<double> litres) =>
        new([.. counts.Zip(litres, (count, examined) => new GrabCount("", count, examined, 1))]);

    private static int Count(CoverageRegime regime, double mean, Dice dice) => dice.Poisson(regime.Size is { } k ? dice.Erlang(k, mean) : mean);
}
