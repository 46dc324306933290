namespace StationFleet.Domain.Statistics;

/// <summary>Trials that came together and succeed or fail together, such as the boats of one count shift.</summary>
/// <param name="Count">Successes; not more than the trials.</param>
/// <param name="Trials">Trials; 0 or more.</param>
/// <param name="Exposure">How much was watched, such as hours; positive.</param>
public readonly record struct ShareCluster(int Count, int Trials, double Exposure = 1);

/// <summary>A part of the whole from which some clusters were watched.</summary>
/// <param name="Exposure">How much there was to watch, in the clusters' unit; positive.</param>
/// <param name="Clusters">What was watched; at least one.</param>
public sealed record ShareStratum(double Exposure, IReadOnlyList<ShareCluster> Clusters);

/// <summary>A share of trials over several strata, from clusters.</summary>
/// <param name="Share">The share with its limits at 95 %.</param>
/// <param name="StandardError">Of the share.</param>
/// <param name="EffectiveTrials">The independent trials that would tell as much.</param>
/// <param name="Freedom">Degrees of freedom by which the standard error is known; at least 1.</param>
public sealed record StratifiedShare(Bounded Share, double StandardError, double EffectiveTrials, double Freedom)
{
    /// <summary>Estimates the share.</summary>
    /// <param name="strata">The strata, each with at least one cluster.</param>
    /// <returns>Null without any trial, or when no stratum has two clusters, so that nothing tells how they scatter.</returns>
    /// <remarks>
    /// Successes and trials of a stratum are its clusters' sums, times its exposure over theirs; the share is the ratio of both sums
    /// over the strata, its variance that of leaving out each cluster in turn (combined ratio estimator and jackknife: W. G. Cochran,
    /// Sampling Techniques, 3rd ed. 1977, ch. 6, from memory). A stratum with one cluster counts with its whole difference from the
    /// share. The limits are Wilson's with the effective trials p(1 − p)/v, never more than weighting leaves of the trials, and
    /// Student's t: the form that C. Franco, R. J. A. Little, T. A. Louis and E. V. Slud, J. Surv. Stat. Methodol. 7, 334–364, 2019,
    /// compare (from memory).
    /// </remarks>
    public static StratifiedShare? Of(IReadOnlyList<ShareStratum> strata)
    {
        ArgumentNullException.ThrowIfNull(strata);
        Sums[] sums = [.. strata.Select(stratum => Sums.Of(stratum.Exposure, stratum.Clusters))];
        (double successes, double trials) = (sums.Sum(own => own.Successes), sums.Sum(own => own.Trials));
        if (trials <= 0 || strata.All(stratum => stratum.Clusters.Count < 2))
        {
            return null;
        }

        double share = successes / trials;
        VariancePart[] parts = [.. strata.Zip(sums, (stratum, own) => Part(stratum, own, successes, trials))];
        double variance = parts.Sum(part => part.Variance);
        double most = trials * trials / sums.Sum(own => own.Squares);
        double effective = variance > 0 ? Math.Min(most, share * (1 - share) / variance) : most;
        double freedom = variance > 0 ? Math.Max(1, VarianceParts.Freedom(parts)) : parts.Sum(part => part.Freedom);
        return new StratifiedShare(
            Bounds.ScoreShare(share, effective, Quantiles.StudentT(0.975, freedom)), Math.Sqrt(variance), effective, freedom);
    }

    private static VariancePart Part(ShareStratum stratum, Sums own, double successes, double trials)
    {
        double share = successes / trials;
        int n = stratum.Clusters.Count;
        if (n == 1)
        {
            return new VariancePart(Math.Pow((own.Successes - (share * own.Trials)) / trials, 2), 1);
        }

        double squares = 0;
        for (int i = 0; i < n; i++)
        {
            int left = i;
            Sums rest = Sums.Of(stratum.Exposure, [.. stratum.Clusters.Where((_, place) => place != left)]);
            double others = trials - own.Trials + rest.Trials;
            squares += others > 0 ? Math.Pow(((successes - own.Successes + rest.Successes) / others) - share, 2) : 0;
        }

        return new VariancePart(squares * (n - 1) / n, n - 1);
    }

    /// <summary>A stratum's clusters made as large as the stratum.</summary>
    private readonly record struct Sums(double Successes, double Trials, double Squares)
    {
        public static Sums Of(double exposure, IReadOnlyCollection<ShareCluster> clusters)
        {
            double scale = exposure / clusters.Sum(cluster => cluster.Exposure);
            double trials = scale * clusters.Sum(cluster => cluster.Trials);
            return new Sums(scale * clusters.Sum(cluster => cluster.Count), trials, scale * trials);
        }
    }
}
