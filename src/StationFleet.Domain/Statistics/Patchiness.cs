using MathNet.Numerics;

namespace StationFleet.Domain.Statistics;

/// <summary>Counts of one kind in grabs of one tank that were taken apart from each other.</summary>
/// <param name="Counts">Shape (r,), each 0 or more.</param>
/// <param name="ExaminedLitres">Shape (r,): the litres of tank water that were looked at in each; positive.</param>
public sealed record ReplicateSet(IReadOnlyList<int> Counts, IReadOnlyList<double> ExaminedLitres);

/// <summary>Whether counts of replicate grabs scatter more than chance alone: Pearson's χ² of all sets together.</summary>
/// <param name="ChiSquare">Σ (x − X w/W)² / (X w/W).</param>
/// <param name="Freedom">Degrees of freedom: grabs less sets. 0 when nothing can be said.</param>
public sealed record Dispersion(double ChiSquare, int Freedom)
{
    /// <summary>The chance of so much scatter in well-mixed water; null without degrees of freedom.</summary>
    public double? Chance => Freedom == 0 ? null : SpecialFunctions.GammaUpperRegularized(Freedom / 2.0, ChiSquare / 2);
}

/// <summary>
/// How unevenly organisms are spread in a tank, as far as it is known: a weight for each coefficient of variation (CV) of the
/// concentration between grabs. CV² = 1/k, with k the size of the negative binomial distribution of one grab's count.
/// </summary>
/// <remarks>
/// A grid of CV from 0 to 1.60 in steps of 0.05. Before any replicate the weights are exp(−½ (CV/0.6)²), halved at 0 (a judgement). Each
/// replicate set multiplies them by ∫ Π NB(xᵢ; mean c wᵢ, size k) dc/c, the likelihood with the unknown mean integrated out. For equal
/// wᵢ that is the Dirichlet-multinomial probability Γ(rk)/Γ(rk + X) Π Γ(k + xᵢ)/Γ(k), times what doesn't depend on k.
/// </remarks>
public sealed class Patchiness
{
    private const int Nodes = 33;
    private const double Step = 0.05;
    private const double PriorWidth = 0.6;

    private Patchiness(IReadOnlyList<double> sizes, IReadOnlyList<double> weights, int sets, int grabs, Dispersion dispersion)
    {
        (Sizes, Weights, Sets, Grabs, Dispersion) = (sizes, weights, sets, grabs, dispersion);
        MeanCv = sizes.Zip(weights, (size, weight) => weight / Math.Sqrt(size)).Sum();
        MeanSquareCv = sizes.Zip(weights, (size, weight) => weight / size).Sum();
    }

    /// <summary>What is assumed while no tank of the season has replicate grabs.</summary>
    public static Patchiness Assumed { get; } = From([]);

    /// <summary>The size k of each node, falling; the first is infinite: well mixed.</summary>
    public IReadOnlyList<double> Sizes { get; }

    /// <summary>The weight of each node; they sum to 1.</summary>
    public IReadOnlyList<double> Weights { get; }

    /// <summary>Replicate sets that speak: two grabs or more, and at least one organism.</summary>
    public int Sets { get; }

    /// <summary>The grabs in those sets.</summary>
    public int Grabs { get; }

    /// <summary>The scatter of those sets against chance alone.</summary>
    public Dispersion Dispersion { get; }

    /// <summary>The mean CV of the concentration between grabs.</summary>
    public double MeanCv { get; }

    /// <summary>The mean of CV², that is of 1/k.</summary>
    public double MeanSquareCv { get; }

    /// <summary>Whether replicate grabs have told something; else it is assumed.</summary>
    public bool IsMeasured => Sets > 0;

    /// <summary>Patchiness of a known size: in tests of method, and in plans.</summary>
    /// <param name="size">k > 0; infinite for well-mixed water.</param>
    public static Patchiness Known(double size) => new([size], [1], 0, 0, new Dispersion(0, 0));

    /// <summary>What replicate grabs tell, all tanks of one season and one group of organisms together.</summary>
    /// <param name="sets">Sets in any order; those of one grab, or without any organism, tell nothing.</param>
    public static Patchiness From(IEnumerable<ReplicateSet> sets)
    {
        ReplicateSet[] speaking = [.. sets.Where(set => set.Counts.Count > 1 && set.Counts.Any(count => count > 0))];
        double[] sizes = new double[Nodes];
        double[] logs = new double[Nodes];
        for (int i = 0; i < Nodes; i++)
        {
            double cv = i * Step;
            sizes[i] = i == 0 ? double.PositiveInfinity : 1 / (cv * cv);
            logs[i] = (-0.5 * cv * cv / (PriorWidth * PriorWidth)) - (i == 0 ? Math.Log(2) : 0);
        }

        foreach (ReplicateSet set in speaking)
        {
            ReplicateLikelihood likelihood = new(set);
            for (int i = 0; i < Nodes; i++)
            {
                logs[i] += likelihood.Log(sizes[i]);
            }
        }

        double greatest = logs.Max();
        double sum = logs.Sum(log => Math.Exp(log - greatest));
        return new Patchiness(
            sizes,
            [.. logs.Select(log => Math.Exp(log - greatest) / sum)],
            speaking.Length,
            speaking.Sum(set => set.Counts.Count),
            Scatter(speaking));
    }

    private static Dispersion Scatter(ReplicateSet[] sets)
    {
        double chiSquare = 0;
        foreach (ReplicateSet set in sets)
        {
            double perLitre = set.Counts.Sum() / set.ExaminedLitres.Sum();
            chiSquare += set.Counts.Zip(set.ExaminedLitres, (count, litres) => Math.Pow(count - (perLitre * litres), 2) / (perLitre * litres)).Sum();
        }

        return new Dispersion(chiSquare, sets.Sum(set => set.Counts.Count - 1));
    }
}
