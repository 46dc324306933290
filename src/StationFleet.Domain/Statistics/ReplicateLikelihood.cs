using MathNet.Numerics;

namespace StationFleet.Domain.Statistics;

/// <summary>How well a size k explains one replicate set, whatever its mean concentration c: ln ∫ Π NB(xᵢ; c wᵢ, k) dc/c.</summary>
/// <remarks>
/// With t = ln c the integrand is smooth and falls exponentially on both sides, so the trapezoid rule is as exact as the arithmetic:
/// its steps are at most half a standard deviation of the integrand. Terms that don't depend on k are left out.
/// </remarks>
internal sealed class ReplicateLikelihood
{
    private const double LongestStep = 0.4;
    private const double Negligible = 1e-14;

    private readonly int[] _counts;
    private readonly double[] _litres;
    private readonly int _total;
    private readonly double _litresTogether;
    private readonly bool _isEqual;

    public ReplicateLikelihood(ReplicateSet set)
    {
        (_counts, _litres) = ([.. set.Counts], [.. set.ExaminedLitres]);
        (_total, _litresTogether) = (_counts.Sum(), _litres.Sum());
        _isEqual = _litres.All(litres => Math.Abs(litres - _litres[0]) <= 1e-12 * _litres[0]);
    }

    public double Log(double size)
    {
        double r = _counts.Length;
        if (double.IsPositiveInfinity(size))
        {
            return -_total * Math.Log(_litresTogether);
        }

        double gammas = _counts.Sum(count => SpecialFunctions.GammaLn(size + count)) - (r * SpecialFunctions.GammaLn(size));
        return _isEqual
            ? gammas + SpecialFunctions.GammaLn(r * size) - SpecialFunctions.GammaLn((r * size) + _total) - (_total * Math.Log(_litres[0]))
            : gammas + Integral(size) - SpecialFunctions.GammaLn(_total);
    }

    // ln ∫ exp(X t − Σ xᵢ ln k − Σ (xᵢ + k) ln(1 + wᵢ eᵗ/k)) dt.
    private double Integral(double size)
    {
        double middle = Math.Log(_total / _litresTogether);
        double curvature = 0;
        for (int i = 0; i < _counts.Length; i++)
        {
            double mean = Math.Exp(middle) * _litres[i];
            curvature += (_counts[i] + size) * size * mean / ((size + mean) * (size + mean));
        }

        double step = Math.Min(LongestStep, 0.5 / Math.Sqrt(curvature));
        double atMiddle = LogTerm(middle, size);
        double sum = 1 + OneSide(middle, step, size, atMiddle) + OneSide(middle, -step, size, atMiddle);
        return atMiddle + Math.Log(sum * step);
    }

    private double OneSide(double middle, double step, double size, double atMiddle)
    {
        (double sum, double previous) = (0, 1);
        for (double t = middle + step; ; t += step)
        {
            double term = Math.Exp(LogTerm(t, size) - atMiddle);
            sum += term;
            if (term < previous && term < Negligible * (1 + sum))
            {
                return sum;
            }

            previous = term;
        }
    }

    private double LogTerm(double t, double size)
    {
        double concentration = Math.Exp(t) / size;
        double log = _total * (t - Math.Log(size));
        for (int i = 0; i < _counts.Length; i++)
        {
            log -= (_counts[i] + size) * Math.Log(1 + (_litres[i] * concentration));
        }

        return log;
    }
}
