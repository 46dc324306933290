using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>What must be said beside an estimate.</summary>
public enum EstimateLabel
{
    /// <summary>It tells what was in collected water: organisms never captured, or lost before counting, are not in it.</summary>
    InCollectedWater,

    /// <summary>Whether they were alive was not determined, and no introduction is counted as prevented.</summary>
    FateNotDetermined,

    /// <summary>None were found: there is only an upper limit.</summary>
    NoneFound,

    /// <summary>One or two were found: hardly more than an upper limit.</summary>
    FewFound,

    /// <summary>No tank of the season has replicate grabs, so patchiness is assumed; the counting-only limits are a minimum.</summary>
    PatchinessAssumed,

    /// <summary>One grab: how patchy the water is comes from other tanks of the season.</summary>
    OneGrab,

    /// <summary>The water is very patchy: the interval covers about 93 %.</summary>
    VeryPatchy,

    /// <summary>Several aliquots of one grab: they tell of the laboratory's subsampling only.</summary>
    AliquotsAreNoReplicates,

    /// <summary>The pump-out before left so much that its organisms may be among these.</summary>
    CarriedOver,

    /// <summary>The mesh was wide enough to lose some: a lower bound.</summary>
    CoarseMesh,

    /// <summary>Losses from grab to count were measured and are allowed for.</summary>
    RecoveryAllowedFor,
}

/// <summary>Why there is no estimate although there was a sample.</summary>
public enum WithheldReason
{
    /// <summary>A blank of the batch had the organism in it.</summary>
    BlankContaminated,

    /// <summary>The tank's volume is not known.</summary>
    VolumeUnknown,

    /// <summary>More water was looked at than came into the tank, by more than the volume's uncertainty: a number is wrong.</summary>
    MoreExaminedThanCollected,
}

/// <summary>How an estimate was made, step by step.</summary>
/// <param name="Patchiness">What was known of patchiness, all tanks of the season and the organism's group together.</param>
/// <param name="EqualGrabs">How many grabs of equal volume the grabs are worth.</param>
/// <param name="Counted">Limits of the count's mean, counting and patchiness together, on the scale of the count.</param>
/// <param name="Spread">The same with the volume's and the recovery's uncertainty, and with the part that was examined taken as known.</param>
/// <param name="LnSd">Standard deviation on the log scale of volume and recovery together.</param>
/// <param name="ShareExamined">Examined water ÷ collected water.</param>
/// <param name="PerCount">Organisms in the collected water for each one counted: V/(W ρ).</param>
public sealed record EstimateSteps(
    Patchiness Patchiness, double EqualGrabs, CountLimits Counted, CountLimits Spread, double LnSd, double ShareExamined, double PerCount);

/// <summary>How many organisms of one kind were in the water that one tank collected in one period.</summary>
/// <param name="Period">The period.</param>
/// <param name="Organism">The organism.</param>
/// <param name="Grabs">What was counted.</param>
public abstract record RemovalEstimate(TankPeriod Period, Organism Organism, CountedGrabs Grabs)
{
    /// <summary>The share of a tank from which on its examined part is taken as known.</summary>
    internal const double FiniteFrom = 0.05;

    private const double CarriedFrom = 0.05;
    private const double FinestMeshNeeded = 64;
    private const double VeryPatchyFrom = 0.8;

    /// <summary>An estimate.</summary>
    /// <param name="Period">The period.</param>
    /// <param name="Organism">The organism.</param>
    /// <param name="Grabs">What was counted.</param>
    /// <param name="Organisms">In the collected water, with limits at 95 %.</param>
    /// <param name="PerLitre">In a litre of tank water [1/L], with limits at 95 %; without the volume's uncertainty.</param>
    /// <param name="CountingOnly">Limits by counting chance alone (Garwood's), with the volume taken as exact: a minimum.</param>
    /// <param name="Steps">How it was made.</param>
    /// <param name="Labels">What must be said beside it.</param>
    public sealed record Made(
        TankPeriod Period,
        Organism Organism,
        CountedGrabs Grabs,
        Bounded Organisms,
        Bounded PerLitre,
        Bounded CountingOnly,
        EstimateSteps Steps,
        IReadOnlyList<EstimateLabel> Labels) : RemovalEstimate(Period, Organism, Grabs);

    /// <summary>No estimate, though there was a sample.</summary>
    /// <param name="Period">The period.</param>
    /// <param name="Organism">The organism.</param>
    /// <param name="Grabs">What was counted.</param>
    /// <param name="Reason">Why.</param>
    public sealed record Withheld(TankPeriod Period, Organism Organism, CountedGrabs Grabs, WithheldReason Reason)
        : RemovalEstimate(Period, Organism, Grabs);

    /// <summary>The estimate from one tank's counts, with what the season knows of patchiness.</summary>
    /// <param name="period">The period, without <see cref="TankPeriod.Faults"/>.</param>
    /// <param name="organism">The organism.</param>
    /// <param name="grabs">What was counted of it.</param>
    /// <param name="patchiness">What is known of patchiness.</param>
    public static RemovalEstimate Of(TankPeriod period, Organism organism, CountedGrabs grabs, Patchiness patchiness)
    {
        ArgumentNullException.ThrowIfNull(period);
        ArgumentNullException.ThrowIfNull(grabs);
        ArgumentNullException.ThrowIfNull(patchiness);
        (int x, double w) = (grabs.Count, grabs.ExaminedLitres);
        if (period.IsContaminated(organism))
        {
            return new Withheld(period, organism, grabs, WithheldReason.BlankContaminated);
        }

        if (period.Water is not { } water)
        {
            return new Withheld(period, organism, grabs, WithheldReason.VolumeUnknown);
        }

        if (w > water.Litres + Math.Max(3 * water.SdLitres, 1e-9 * water.Litres))
        {
            return new Withheld(period, organism, grabs, WithheldReason.MoreExaminedThanCollected);
        }

        (double rho, double rhoSd) = period.Recovery is { } recovery ? (recovery.Share, recovery.Sd / recovery.Share) : (1, 0);
        double lnSd = Math.Sqrt((water.LnSd * water.LnSd) + (rhoSd * rhoSd));
        double share = Math.Min(1, w / water.Litres);
        double perCount = water.Litres / (w * rho);
        CountLimits counted = CountLimits.Of(x, patchiness, grabs.EqualGrabs);
        CountLimits spread = counted.Spread(lnSd, share > FiniteFrom ? 1 - share : 1);
        CountLimits concentration = counted.Spread(rhoSd, 1);
        Bounded organisms = new(x * perCount, spread.Low * perCount, spread.High * perCount);
        if (share > FiniteFrom)
        {
            // What was seen was in the tank; and the median must not push the limits past the estimate when nearly all was seen.
            organisms = organisms with
            {
                Low = Math.Max(x, Math.Min(organisms.Low, organisms.Value)),
                High = Math.Max(organisms.Value, organisms.High),
            };
        }

        return new Made(
            period,
            organism,
            grabs,
            organisms,
            new Bounded(x / (w * rho), concentration.Low / (w * rho), concentration.High / (w * rho)),
            Bounds.Rate(x, 1 / perCount),
            new EstimateSteps(patchiness, grabs.EqualGrabs, counted, spread, lnSd, share, perCount),
            [.. LabelsOf(period, grabs, patchiness)]);
    }

    private static IEnumerable<EstimateLabel> LabelsOf(TankPeriod period, CountedGrabs grabs, Patchiness patchiness)
    {
        yield return EstimateLabel.InCollectedWater;
        yield return EstimateLabel.FateNotDetermined;
        (EstimateLabel Label, bool Applies)[] others =
        [
            (EstimateLabel.NoneFound, grabs.Count == 0),
            (EstimateLabel.FewFound, grabs.Count is 1 or 2),
            (EstimateLabel.PatchinessAssumed, !patchiness.IsMeasured),
            (EstimateLabel.OneGrab, patchiness.IsMeasured && grabs.Grabs.Count == 1),
            (EstimateLabel.VeryPatchy, patchiness.IsMeasured && patchiness.MeanCv >= VeryPatchyFrom),
            (EstimateLabel.AliquotsAreNoReplicates, grabs.Grabs is [{ Aliquots: > 1 }]),
            (EstimateLabel.CarriedOver, period.Water is { } water && water.LeftLitres > CarriedFrom * (water.Litres + water.LeftLitres)),
            (EstimateLabel.CoarseMesh, period.MeshMicrometres > FinestMeshNeeded),
            (EstimateLabel.RecoveryAllowedFor, period.Recovery is not null),
        ];
        foreach ((EstimateLabel label, bool applies) in others)
        {
            if (applies)
            {
                yield return label;
            }
        }
    }
}
