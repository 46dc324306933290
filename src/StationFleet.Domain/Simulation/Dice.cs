namespace StationFleet.Domain.Simulation;

/// <summary>
/// Random numbers that depend on nothing but a key, so that any day of any station can be drawn alone and comes out the same.
/// </summary>
/// <remarks>SplitMix64 (Steele, Lea and Flood, OOPSLA 2014, doi:10.1145/2660193.2660195), seeded by the FNV-1a hash of the key.</remarks>
internal sealed class Dice
{
    private ulong _state;

    private Dice(ulong state) => _state = state;

    public static Dice For(long seed, string what, long index = 0) => new(Hash(seed, what, index));

    /// <summary>One number for one key, in [0, 1).</summary>
    public static double At(long seed, string what, long index) => For(seed, what, index).Next();

    /// <summary>In [0, 1).</summary>
    public double Next() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    public double Between(double from, double to) => from + ((to - from) * Next());

    public bool Chance(double share) => Next() < share;

    /// <summary>Standard normal, by the polar-free Box-Muller form.</summary>
    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - Next())) * Math.Cos(2 * Math.PI * Next());

    /// <summary>Exponential with mean 1.</summary>
    public double Exponential() => -Math.Log(1 - Next());

    /// <summary>Gamma with a whole shape and the given mean: a sum of exponentials.</summary>
    public double Erlang(int shape, double mean)
    {
        double sum = 0;
        for (int i = 0; i < shape; i++)
        {
            sum += Exponential();
        }

        return sum * mean / shape;
    }

    /// <summary>Poisson, by counting exponentials; meant for means under some hundreds.</summary>
    public int Poisson(double mean)
    {
        int count = -1;
        for (double sum = 0; sum <= mean; sum += Exponential())
        {
            count++;
        }

        return Math.Max(0, count);
    }

    private static ulong Hash(long seed, string what, long index)
    {
        unchecked
        {
            ulong hash = 14695981039346656037UL;
            foreach (char letter in what)
            {
                hash = (hash ^ letter) * 1099511628211UL;
            }

            hash = (hash ^ (ulong)seed) * 1099511628211UL;
            hash = (hash ^ (ulong)index) * 1099511628211UL;
            return Mix(hash);
        }
    }

    private static ulong Mix(ulong z)
    {
        unchecked
        {
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }

    private ulong NextBits()
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15UL;
        }

        return Mix(_state);
    }
}
