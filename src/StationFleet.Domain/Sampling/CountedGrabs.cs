using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>What one grab tells of one organism.</summary>
/// <param name="Id">The grab.</param>
/// <param name="Count">All that were seen.</param>
/// <param name="ExaminedLitres">Litres of tank water that were looked at: grab × aliquots ÷ concentrate [L].</param>
/// <param name="Aliquots">How many aliquots were looked through for it.</param>
public sealed record GrabCount(string Id, int Count, double ExaminedLitres, int Aliquots);

/// <summary>What the grabs of a tank tell of one organism.</summary>
/// <param name="Grabs">Each grab that was looked through for it.</param>
public sealed record CountedGrabs(IReadOnlyList<GrabCount> Grabs)
{
    /// <summary>All that were seen.</summary>
    public int Count => Grabs.Sum(grab => grab.Count);

    /// <summary>Litres of tank water looked at [L].</summary>
    public double ExaminedLitres => Grabs.Sum(grab => grab.ExaminedLitres);

    /// <summary>How many grabs of equal volume they are worth: (Σw)²/Σw².</summary>
    public double EqualGrabs => ExaminedLitres * ExaminedLitres / Grabs.Sum(grab => grab.ExaminedLitres * grab.ExaminedLitres);

    /// <summary>The same as a replicate set.</summary>
    public ReplicateSet Replicates => new([.. Grabs.Select(grab => grab.Count)], [.. Grabs.Select(grab => grab.ExaminedLitres)]);

    /// <summary>The counts of one organism; null when no grab was looked through for it.</summary>
    /// <param name="period">The tank's period.</param>
    /// <param name="organism">The organism.</param>
    public static CountedGrabs? Of(TankPeriod period, Organism organism)
    {
        ArgumentNullException.ThrowIfNull(period);
        List<GrabCount> grabs = [];
        foreach (Grab grab in period.Grabs)
        {
            (int count, double examinedMl, int aliquots) = (0, 0, 0);
            foreach (Aliquot aliquot in grab.Aliquots)
            {
                foreach (OrganismCount seen in aliquot.Counts)
                {
                    if (seen.Organism == organism)
                    {
                        (count, examinedMl, aliquots) = (count + seen.Count, examinedMl + aliquot.ExaminedMl, aliquots + 1);
                    }
                }
            }

            if (aliquots > 0)
            {
                grabs.Add(new GrabCount(grab.Id, count, ExaminedWater.Litres(grab.Litres, examinedMl, grab.ConcentratedMl), aliquots));
            }
        }

        return grabs.Count == 0 ? null : new CountedGrabs(grabs);
    }
}
