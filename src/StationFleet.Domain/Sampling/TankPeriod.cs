namespace StationFleet.Domain.Sampling;

/// <summary>The time between two pump-outs of one tank: what came in, and what was sampled of it.</summary>
/// <param name="Id">What names the period.</param>
/// <param name="Station">The station's code.</param>
/// <param name="From">Local day of the pump-out before.</param>
/// <param name="To">Local day of the pump-out that ends it.</param>
/// <param name="Water">What came in; null while the volume is not known.</param>
/// <param name="Grabs">Independent grabs; empty when nothing was sampled.</param>
/// <param name="Blanks">The blanks of the same batch.</param>
public sealed record TankPeriod(
    string Id, string Station, DateOnly From, DateOnly To, CollectedWater? Water, IReadOnlyList<Grab> Grabs, IReadOnlyList<Blank> Blanks)
{
    /// <summary>The mesh that concentrated the grabs [µm]; null when not written down.</summary>
    public double? MeshMicrometres { get; init; }

    /// <summary>How the grabs were preserved; null when not written down.</summary>
    public string? Preservation { get; init; }

    /// <summary>The measured recovery; null when losses are not known.</summary>
    public Recovery? Recovery { get; init; }

    /// <summary>The month that the period belongs to: that of its middle day, 1 to 12.</summary>
    public int Month => Middle.Month;

    /// <summary>The year of its middle day.</summary>
    public int Year => Middle.Year;

    private DateOnly Middle => From.AddDays((To.DayNumber - From.DayNumber) / 2);

    /// <summary>All that was looked for, in the order of counting.</summary>
    public IEnumerable<Organism> LookedFor() =>
        Grabs.SelectMany(grab => grab.Aliquots).SelectMany(aliquot => aliquot.Counts).Select(count => count.Organism).Distinct();

    /// <summary>Whether a blank of the batch had an organism in it.</summary>
    /// <param name="organism">The organism.</param>
    public bool IsContaminated(Organism organism) =>
        Blanks.Any(blank => blank.Counts.Any(count => count.Organism == organism && count.Count > 0));

    /// <summary>What contradicts itself or nature, a sentence each; empty when the period can be worked with.</summary>
    public IEnumerable<string> Faults()
    {
        if (To < From)
        {
            yield return $"Period {Id} ends before it begins.";
        }

        if (Water is { } water && !(Positive(water.Litres) && NotNegative(water.SdLitres) && NotNegative(water.LeftLitres)))
        {
            yield return $"The water of period {Id} must be above 0 L, its uncertainty and what was left 0 L or more.";
        }

        if (Recovery is { } recovery && !(recovery.Share is > 0 and <= 1 && NotNegative(recovery.Sd)))
        {
            yield return $"The recovery of period {Id} must be above 0 and at most 1, its uncertainty 0 or more.";
        }

        if (Grabs.Select(grab => grab.Id).Distinct(StringComparer.Ordinal).Count() < Grabs.Count)
        {
            yield return $"Two grabs of period {Id} have the same name; aliquots of one grab belong into that grab.";
        }

        foreach (string fault in Grabs.SelectMany(FaultsOf).Concat(Blanks.SelectMany(blank => FaultsOf($"Blank {blank.Id}", blank.Counts))))
        {
            yield return fault;
        }
    }

    private static IEnumerable<string> FaultsOf(Grab grab)
    {
        double examinedMl = grab.Aliquots.Sum(aliquot => aliquot.ExaminedMl);
        if (!Positive(grab.Litres) || !Positive(grab.ConcentratedMl) || grab.Aliquots.Any(aliquot => !Positive(aliquot.ExaminedMl)))
        {
            yield return $"The volumes of grab {grab.Id} must be above 0.";
        }
        else if (examinedMl > grab.ConcentratedMl * (1 + 1e-9))
        {
            yield return FormattableString.Invariant($"Of grab {grab.Id} {examinedMl:0.###} mL were looked through, but it was concentrated to {grab.ConcentratedMl:0.###} mL.");
        }

        foreach (string fault in grab.Aliquots.SelectMany(aliquot => FaultsOf($"Grab {grab.Id}", aliquot.Counts)))
        {
            yield return fault;
        }
    }

    private static IEnumerable<string> FaultsOf(string what, IReadOnlyList<OrganismCount> counts)
    {
        if (counts.Any(count => count.Count < 0))
        {
            yield return $"{what} has a count below 0.";
        }

        if (counts.Select(count => count.Organism).Distinct().Count() < counts.Count)
        {
            yield return $"{what} counts the same organism twice.";
        }
    }

    private static bool Positive(double value) => value > 0 && double.IsFinite(value);

    private static bool NotNegative(double value) => value >= 0 && double.IsFinite(value);
}
