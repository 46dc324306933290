namespace StationFleet.Domain.Sampling;

/// <summary>What is counted: a taxon in a stage of life.</summary>
/// <param name="Taxon">The taxon's name or code.</param>
/// <param name="LifeStage">The stage, such as veliger; null when stages aren't told apart.</param>
public readonly record struct Organism(string Taxon, string? LifeStage = null);

/// <summary>How many were found. Zero says that they were looked for; what was not looked for is left out.</summary>
/// <param name="Taxon">The taxon's name or code.</param>
/// <param name="Count">How many were seen; 0 or more.</param>
/// <param name="LifeStage">The stage; null when stages aren't told apart.</param>
public sealed record OrganismCount(string Taxon, int Count, string? LifeStage = null)
{
    /// <summary>What was looked for.</summary>
    public Organism Organism => new(Taxon, LifeStage);
}

/// <summary>A part of a concentrated grab that was looked through.</summary>
/// <param name="ExaminedMl">Its volume [mL]; positive.</param>
/// <param name="Counts">What was looked for in it, each organism once.</param>
public sealed record Aliquot(double ExaminedMl, IReadOnlyList<OrganismCount> Counts);

/// <summary>
/// Water taken from the tank at one go and processed apart from other grabs. Grabs are the replicates; aliquots of one grab tell
/// of the laboratory's subsampling only.
/// </summary>
/// <param name="Id">What names the grab.</param>
/// <param name="Litres">Water taken from the tank [L]; positive.</param>
/// <param name="ConcentratedMl">Volume that it was concentrated to, rinse included [mL]; positive.</param>
/// <param name="Aliquots">The parts looked through.</param>
public sealed record Grab(string Id, double Litres, double ConcentratedMl, IReadOnlyList<Aliquot> Aliquots);

/// <summary>Clean water poured through the same gear and counted like a sample.</summary>
/// <param name="Id">What names the blank.</param>
/// <param name="Counts">What was found in it.</param>
public sealed record Blank(string Id, IReadOnlyList<OrganismCount> Counts);

/// <summary>The share of organisms in the tank's water that the way from grab to count keeps, as measured by a spike test.</summary>
/// <param name="Share">Above 0, at most 1.</param>
/// <param name="Sd">Its standard uncertainty; 0 or more.</param>
public sealed record Recovery(double Share, double Sd);

/// <summary>The water that came into a tank between two pump-outs.</summary>
/// <param name="Litres">The volume [L]; positive.</param>
/// <param name="SdLitres">Its standard uncertainty, calibration included [L]; 0 or more.</param>
/// <param name="LeftLitres">What the pump-out before had left in the tank [L]; 0 or more.</param>
public sealed record CollectedWater(double Litres, double SdLitres, double LeftLitres)
{
    /// <summary>The water between two emptyings; null when the level has not risen.</summary>
    /// <param name="leftLitres">In the tank after the emptying before [L].</param>
    /// <param name="nowLitres">In the tank before the emptying that ends the period [L].</param>
    /// <param name="sdLitres">Standard uncertainty of either volume [L], such as <see cref="Tanks.TankUncertainty"/> gives.</param>
    /// <remarks>The errors of both levels count as independent: √2 times one of them. An offset of the gauge cancels, a wrong scale doesn't.</remarks>
    public static CollectedWater? Between(double leftLitres, double nowLitres, double sdLitres) =>
        nowLitres > leftLitres ? new CollectedWater(nowLitres - leftLitres, Math.Sqrt(2) * sdLitres, Math.Max(0, leftLitres)) : null;

    /// <summary>The standard deviation of the volume's logarithm.</summary>
    public double LnSd
    {
        get
        {
            double share = SdLitres / Litres;
            return share > 0.2 ? Math.Sqrt(Math.Log(1 + (share * share))) : share;
        }
    }
}
