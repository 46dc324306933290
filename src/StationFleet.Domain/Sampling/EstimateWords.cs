using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>What pages and exports say of a removal estimate.</summary>
public static class EstimateWords
{
    private const int Digits = 3;

    /// <summary>An organism as the subject of a sentence, in the plural.</summary>
    /// <param name="organism">The organism.</param>
    public static string Plural(Organism organism) => organism.LifeStage switch
    {
        null => $"individuals of {organism.Taxon}",
        "larva" => $"{organism.Taxon} larvae",
        { } stage => $"{organism.Taxon} {stage}{(stage.EndsWith('s') ? "" : "s")}",
    };

    /// <summary>A figure with its limits: about 720 (363 to 1,650).</summary>
    /// <param name="figure">The figure.</param>
    public static string Figure(Bounded figure) =>
        $"about {Whole(figure.Value)} ({Whole(figure.Low)} to {Whole(figure.High)})";

    /// <summary>The estimate, or why there is none, in one sentence.</summary>
    /// <param name="estimate">The estimate.</param>
    /// <param name="units">The reader's units.</param>
    public static string Sentence(RemovalEstimate estimate, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(estimate);
        string what = Plural(estimate.Organism);
        string when = Days(estimate.Period.From, estimate.Period.To);
        return estimate switch
        {
            RemovalEstimate.Made { Grabs.Count: 0 } made =>
                $"No {what} were found; fewer than {Whole(made.Organisms.High)} were in the {Water(made.Period.Water!, units)} collected {when}.",
            RemovalEstimate.Made made =>
                $"{NumberWords.Capital(Figure(made.Organisms))} {what} were in the {Water(made.Period.Water!, units)} collected {when}; "
                + "alive or dead not determined; not a count of introductions prevented.",
            RemovalEstimate.Withheld withheld => $"No estimate of {what} {when}: {Reason(withheld.Reason)}.",
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }

    /// <summary>What the interval allows for and what it doesn't.</summary>
    /// <param name="made">The estimate.</param>
    public static string Basis(RemovalEstimate.Made made)
    {
        ArgumentNullException.ThrowIfNull(made);
        string patchiness = made.Steps.Patchiness.IsMeasured ? "measured" : "assumed";
        return $"The 95 % interval includes counting chance, {patchiness} patchiness between grabs, and tank-volume uncertainty. "
            + "It excludes organisms never captured or lost before counting.";
    }

    /// <summary>How the estimate was made, a line for each step.</summary>
    /// <param name="made">The estimate.</param>
    /// <param name="units">The reader's units; what was looked at under the microscope stays in litres.</param>
    public static IReadOnlyList<string> Steps(RemovalEstimate.Made made, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(made);
        (EstimateSteps steps, CollectedWater water) = (made.Steps, made.Period.Water!);
        string grabs = string.Join(", ", made.Grabs.Grabs.Select(grab => $"{grab.Id}: {grab.Count} in {Number(grab.ExaminedLitres)} L"));
        List<string> lines =
        [
            $"Counted {made.Grabs.Count} in {Number(made.Grabs.ExaminedLitres)} L of tank water ({grabs}).",
            $"That is {Number(made.PerLitre.Value)} in a litre; {Water(water, units)} were collected, known to ±{NumberWords.Percent(water.LnSd)}.",
            Patchy(steps.Patchiness),
            $"Counting and patchiness leave the count between {Number(steps.Counted.Low)} and {Number(steps.Counted.High)}; "
            + $"with the volume's uncertainty {Number(steps.Spread.Low)} to {Number(steps.Spread.High)}.",
            $"Each one counted stands for {Number(steps.PerCount)} in the collected water.",
        ];
        if (steps.ShareExamined > RemovalEstimate.FiniteFrom)
        {
            lines.Add($"{NumberWords.Percent(steps.ShareExamined)} of the tank was looked at, which is taken as known and narrows the interval.");
        }

        if (made.Period.Recovery is { } recovery)
        {
            lines.Add($"{NumberWords.Percent(recovery.Share)} of organisms reach the count, by a spike test; the estimate is divided by that.");
        }

        return lines;
    }

    /// <summary>What a label says.</summary>
    /// <param name="label">The label.</param>
    public static string Label(EstimateLabel label) => label switch
    {
        EstimateLabel.InCollectedWater => "In collected water; capture and laboratory losses not included.",
        EstimateLabel.FateNotDetermined => "Alive or dead not determined; not a count of introductions prevented.",
        EstimateLabel.NoneFound => "None found: upper limit only (two-sided 97.5 %).",
        EstimateLabel.FewFound => "Few found: hardly more than an upper limit.",
        EstimateLabel.PatchinessAssumed => "Patchiness assumed (no replicate grabs this season); the interval is wide on purpose. Counting error only is a minimum.",
        EstimateLabel.OneGrab => "One grab: patchiness is taken from other tanks of the season.",
        EstimateLabel.VeryPatchy => "Very patchy water: the interval covers approximately 93 %.",
        EstimateLabel.AliquotsAreNoReplicates => "Aliquots measure laboratory subsampling only; they are no replicate grabs.",
        EstimateLabel.CarriedOver => "The pump-out before left water in the tank: some of these organisms may be from the period before.",
        EstimateLabel.CoarseMesh => "The mesh is wider than 64 µm and loses small stages: a lower bound.",
        EstimateLabel.RecoveryAllowedFor => "Losses from grab to count are allowed for by a measured recovery.",
        _ => throw new ArgumentOutOfRangeException(nameof(label), label, "Not a label."),
    };

    /// <summary>Why an estimate is withheld, without a full stop.</summary>
    /// <param name="reason">The reason.</param>
    public static string Reason(WithheldReason reason) => reason switch
    {
        WithheldReason.BlankContaminated => "a blank of the same batch had them in it",
        WithheldReason.VolumeUnknown => "the volume of the collected water is not known",
        WithheldReason.MoreExaminedThanCollected => "more water was looked at than was collected, so a number is wrong",
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "Not a reason."),
    };

    /// <summary>Days in a sentence: from 15 to 28 June.</summary>
    /// <param name="from">The first.</param>
    /// <param name="to">The last.</param>
    public static string Days(DateOnly from, DateOnly to)
    {
        string last = to.ToString(from.Year == to.Year ? "d MMMM" : "d MMMM yyyy", CultureInfo.InvariantCulture);
        string first = from.ToString(from.Year != to.Year ? "d MMMM yyyy" : from.Month == to.Month ? "%d" : "d MMMM", CultureInfo.InvariantCulture);
        return from == to ? $"on {last}" : $"from {first} to {last}";
    }

    internal static string Number(double value) => NumberWords.Significant(value, Digits);

    // Organisms come whole.
    internal static string Whole(double value) => NumberWords.Significant(Math.Round(value), Digits);

    internal static string Litres(double litres, UnitSystem units) => $"{Number(Units.VolumeFor(litres, units))} {Units.VolumeUnit(units)}";

    private static string Water(CollectedWater water, UnitSystem units) => Litres(water.Litres, units);

    private static string Patchy(Patchiness patchiness)
    {
        string spread = $"a coefficient of variation between grabs of about {NumberWords.Significant(patchiness.MeanCv, 2)}";
        return patchiness.IsMeasured
            ? $"Patchiness is measured by {patchiness.Grabs} grabs in {NumberWords.Count(patchiness.Sets)} sets of this season: {spread} "
                + $"(χ² = {NumberWords.Significant(patchiness.Dispersion.ChiSquare, 3)} with {patchiness.Dispersion.Freedom} degrees of freedom)."
            : $"Patchiness is assumed: {spread}.";
    }
}
