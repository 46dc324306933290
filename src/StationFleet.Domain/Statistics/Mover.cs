namespace StationFleet.Domain.Statistics;

/// <summary>Limits of sums and of ratios from the limits of their parts.</summary>
/// <remarks>Method of variance estimates recovery: G. Y. Zou and A. Donner, Stat. Med. 27, 1693–1702, 2008 (from memory).</remarks>
public static class Mover
{
    /// <summary>A sum of independent figures.</summary>
    /// <param name="parts">The figures; none sum to nothing.</param>
    /// <returns>T − √Σ(value − low)² to T + √Σ(high − value)²; never below 0.</returns>
    public static Bounded Sum(IEnumerable<Bounded> parts)
    {
        (double sum, double below, double above) = (0, 0, 0);
        foreach (Bounded part in parts)
        {
            sum += part.Value;
            below += (part.Value - part.Low) * (part.Value - part.Low);
            above += (part.High - part.Value) * (part.High - part.Value);
        }

        return new Bounded(sum, Math.Max(0, sum - Math.Sqrt(below)), sum + Math.Sqrt(above));
    }

    /// <summary>The ratio of two independent figures, on the scale of logarithms.</summary>
    /// <param name="over">The figure above the line.</param>
    /// <param name="under">The figure below the line.</param>
    /// <returns>Null when either figure is 0: then nothing is known of the ratio's middle.</returns>
    public static Bounded? Ratio(Bounded over, Bounded under)
    {
        if (over.Value <= 0 || under.Value <= 0)
        {
            return null;
        }

        double ratio = over.Value / under.Value;
        double below = Math.Sqrt(Square(Math.Log(over.Value / over.Low)) + Square(Math.Log(under.High / under.Value)));
        double above = Math.Sqrt(Square(Math.Log(over.High / over.Value)) + Square(Math.Log(under.Value / under.Low)));
        return new Bounded(ratio, ratio * Math.Exp(-below), ratio * Math.Exp(above));

        static double Square(double value) => value * value;
    }
}
