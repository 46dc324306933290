using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>A period with collected water, and its estimate when it was sampled.</summary>
/// <param name="Month">1 to 12.</param>
/// <param name="Water">What came in.</param>
/// <param name="Estimate">Null without a sample, or when the estimate is withheld.</param>
internal sealed record MeteredPeriod(int Month, CollectedWater Water, RemovalEstimate.Made? Estimate)
{
    public double Organisms => Estimate?.Organisms.Value ?? 0;

    /// <summary>(V/W)² X (1 + X CV²/r) + (N s)²: counting, patchiness and volume.</summary>
    public double Variance
    {
        get
        {
            if (Estimate is not { } made)
            {
                return 0;
            }

            EstimateSteps steps = made.Steps;
            double counted = made.Grabs.Count * (1 + (made.Grabs.Count * steps.Patchiness.MeanSquareCv / steps.EqualGrabs));
            double ofVolume = made.Organisms.Value * steps.LnSd;
            return (steps.PerCount * steps.PerCount * counted) + (ofVolume * ofVolume);
        }
    }
}

/// <summary>Expands sampled periods to the whole season.</summary>
/// <remarks>
/// The ratio estimator by volume within months, with the variance of sampling in two stages (after Cochran 1977 ch. 11, from memory);
/// degrees of freedom by Satterthwaite on the part between periods, kept within 1 to 100; limits on the log scale, never below what
/// the sampled periods alone show. Where periods differ much, a sample mostly misses the few full ones, and then both T and v come out
/// too low: so the upper limit is T exp(t (1 + 0.45 g) √v/T) and the lower one T exp(−0.9 t/(1 + 0.2 g) √v/T), g the CV between periods
/// beyond counting and patchiness, 0 to 2. (0.45, 0.9 and 0.2: tried on invented seasons, no source.) Months with fewer than two sampled periods, unless all of them were, are joined with the neighbour
/// that is nearest. A month without a sample is left out.
/// </remarks>
internal static class SeasonExpansion
{
    private const int FewestToExpand = 3;
    private const double VeryUneven = 1.5;
    private const double OneWeighsMost = 0.6;
    private const double MostUneven = 2;

    public static SeasonTotal Of(Organism organism, IReadOnlyList<MeteredPeriod> periods)
    {
        List<MeteredPeriod> sampled = [.. periods.Where(period => period.Estimate is not null)];
        int[] months = [.. periods.Select(period => period.Month).Distinct().Order()];
        int[] covered = [.. sampled.Select(period => period.Month).Distinct().Order()];
        Bounded measured = Mover.Sum(sampled.Select(period => period.Estimate!.Organisms));
        SeasonTotal total = new(
            organism,
            SeasonTotalKind.NothingSampled,
            null,
            measured,
            sampled.Count,
            periods.Count,
            sampled.Sum(period => period.Water.Litres),
            periods.Sum(period => period.Water.Litres),
            covered,
            [.. months.Except(covered)],
            [],
            null,
            null,
            []);
        List<MeteredPeriod> within = [.. periods.Where(period => covered.Contains(period.Month))];
        List<SeasonLabel> labels = [.. Common(total)];
        if (sampled.Count == 0)
        {
            return total with { Labels = labels };
        }

        if (sampled.Count == within.Count)
        {
            return total with { Kind = SeasonTotalKind.WhollySampled, Estimate = measured, Labels = labels };
        }

        List<List<MeteredPeriod>> groups = Join(within);
        int expanding = groups.Where(IsPartial).Sum(group => group.Count(period => period.Estimate is not null));
        if (expanding < FewestToExpand || groups.Any(group => IsPartial(group) && group.Count(period => period.Estimate is not null) < 2))
        {
            return total with { Kind = SeasonTotalKind.MeasuredPartOnly, Labels = labels };
        }

        SeasonStratum[] strata = [.. groups.Select(StratumOf)];
        double sum = strata.Sum(stratum => stratum.Total);
        double error = Math.Sqrt(strata.Sum(stratum => stratum.Variance));
        double freedom = FreedomOf(strata);
        double t = Quantiles.StudentT(0.975, freedom);
        double uneven = UnevennessOf(strata);
        (double below, double above) = (0.9 * t / (1 + (0.2 * uneven)), t * (1 + (0.45 * uneven)));
        Bounded estimate = sum > 0
            ? new Bounded(sum, Math.Max(sum * Math.Exp(-below * error / sum), measured.Low), sum * Math.Exp(above * error / sum))
            : new Bounded(0, 0, HighestOfNone(sampled, within));
        labels.Add(SeasonLabel.AssumesAlike);
        if (strata.Any(stratum => stratum.ResidualCv > VeryUneven) || sampled.Any(period => period.Organisms > OneWeighsMost * sum))
        {
            labels.Add(SeasonLabel.AboutNinetyPercent);
        }

        return total with
        {
            Kind = SeasonTotalKind.Expanded,
            Estimate = estimate,
            Strata = strata,
            Freedom = freedom,
            StandardError = error,
            Labels = labels,
        };
    }

    private static IEnumerable<SeasonLabel> Common(SeasonTotal total)
    {
        if (total.MonthsMissing.Count > 0)
        {
            yield return SeasonLabel.MonthsMissing;
        }

        if (total is { SampledPeriods: > 0, MeasuredPart.Value: 0 })
        {
            yield return SeasonLabel.NoneFound;
        }
    }

    private static bool IsPartial(List<MeteredPeriod> group) => group.Any(period => period.Estimate is null);

    // By month, then thin months join the nearest group in the calendar, the earlier one when both are as near.
    private static List<List<MeteredPeriod>> Join(List<MeteredPeriod> periods)
    {
        List<List<MeteredPeriod>> groups = [.. periods.GroupBy(period => period.Month).OrderBy(month => month.Key).Select(month => month.ToList())];
        while (groups.Count > 1 && groups.FindIndex(group => IsPartial(group) && group.Count(period => period.Estimate is not null) < 2) is >= 0 and var thin)
        {
            int before = thin == 0 ? int.MaxValue : groups[thin].Min(p => p.Month) - groups[thin - 1].Max(p => p.Month);
            int after = thin == groups.Count - 1 ? int.MaxValue : groups[thin + 1].Min(p => p.Month) - groups[thin].Max(p => p.Month);
            int first = before <= after ? thin - 1 : thin;
            groups[first].AddRange(groups[first + 1]);
            groups.RemoveAt(first + 1);
        }

        return groups;
    }

    private static SeasonStratum StratumOf(List<MeteredPeriod> group)
    {
        List<MeteredPeriod> sampled = [.. group.Where(period => period.Estimate is not null)];
        int m = sampled.Count;
        double litres = group.Sum(period => period.Water.Litres);
        double sampledLitres = sampled.Sum(period => period.Water.Litres);
        double perLitre = sampled.Sum(period => period.Organisms) / sampledLitres;
        double periods = litres / (sampledLitres / m);
        double between = m < 2 ? 0 : sampled.Sum(period => Math.Pow(period.Organisms - (perLitre * period.Water.Litres), 2)) / (m - 1);
        return new SeasonStratum(
            [.. group.Select(period => period.Month).Distinct().Order()],
            group.Count,
            m,
            litres,
            sampledLitres,
            perLitre,
            perLitre * litres,
            m == group.Count ? 0 : periods * periods * (1 - (sampledLitres / litres)) * between / m,
            periods / m * sampled.Sum(period => period.Variance),
            group.Where(period => period.Estimate is null).Sum(period => Math.Pow(perLitre * period.Water.Litres * period.Water.LnSd, 2)),
            perLitre > 0 ? Math.Sqrt(between) * m / sampled.Sum(period => period.Organisms) : 0);
    }

    // What counting and patchiness explain of the difference is no difference between periods.
    private static double UnevennessOf(SeasonStratum[] strata)
    {
        SeasonStratum[] telling = [.. strata.Where(stratum => stratum.SampledPeriods < stratum.Periods && stratum.Total > 0)];
        double freedom = telling.Sum(stratum => stratum.SampledPeriods - 1);
        return freedom > 0
            ? Math.Clamp(Math.Sqrt(Math.Max(0, telling.Sum(stratum => (stratum.SampledPeriods - 1) * stratum.ExcessSquareCv) / freedom)), 0, MostUneven)
            : 0;
    }

    private static double FreedomOf(SeasonStratum[] strata)
    {
        VariancePart[] between =
        [
            .. strata.Where(stratum => stratum.BetweenVariance > 0).Select(stratum => new VariancePart(stratum.BetweenVariance, stratum.SampledPeriods - 1)),
        ];
        double freedom = between.Length > 0
            ? VarianceParts.Freedom(between)
            : strata.Where(stratum => stratum.SampledPeriods < stratum.Periods).Sum(stratum => stratum.SampledPeriods - 1);
        return Math.Clamp(freedom, 1, 100);
    }

    // Nothing in any sample: the limit of an empty count over all the examined water, carried to all the collected water.
    private static double HighestOfNone(List<MeteredPeriod> sampled, List<MeteredPeriod> all)
    {
        GrabCount[] grabs = [.. sampled.SelectMany(period => period.Estimate!.Grabs.Grabs)];
        CountedGrabs together = new(grabs);
        double lnSd = sampled.Max(period => period.Estimate!.Steps.LnSd);
        double perLitre = sampled.Sum(period => period.Estimate!.Steps.PerCount * period.Estimate.Grabs.ExaminedLitres) / sampled.Sum(period => period.Water.Litres);
        Patchiness patchiness = sampled[0].Estimate!.Steps.Patchiness;
        CountLimits limits = CountLimits.Of(0, patchiness, together.EqualGrabs).Spread(lnSd, 1);
        return limits.High / together.ExaminedLitres * perLitre * all.Sum(period => period.Water.Litres);
    }
}
