namespace StationFleet.Domain.Statistics;

/// <summary>Chances of many comparisons made at once.</summary>
public static class Holm
{
    /// <summary>The chances, raised so that one comparison in all is wrong no more often than any of them says.</summary>
    /// <param name="chances">Shape (n,), each from 0 to 1, in any order.</param>
    /// <returns>Shape (n,), in the same order.</returns>
    /// <remarks>The step-down method of S. Holm, Scand. J. Stat. 6, 65–70, 1979 (from memory).</remarks>
    public static double[] Adjust(IReadOnlyList<double> chances)
    {
        double[] adjusted = new double[chances.Count];
        double greatest = 0;
        int left = chances.Count;
        foreach (int i in Enumerable.Range(0, chances.Count).OrderBy(i => chances[i]))
        {
            greatest = Math.Max(greatest, Math.Min(1, chances[i] * left--));
            adjusted[i] = greatest;
        }

        return adjusted;
    }
}
