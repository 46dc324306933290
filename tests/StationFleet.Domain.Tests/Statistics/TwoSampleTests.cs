using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Tests.Statistics;

public sealed class TwoSampleTests
{
    [Fact]
    [Source("R, help page of poisson.test: 11 events in 800 against 23 in 3011, p-value = 0.07967 (from memory)")]
    public void PValue_of_two_rates_is_that_of_R() =>
        PoissonRates.PValue(11, 800, 6 + 8 + 7, 1083 + 1050 + 878).Should().BeApproximately(0.07967, 5e-6);

    [Theory]
    [InlineData(0, 0, 1)]
    [InlineData(10, 10, 1)]
    [InlineData(10, 0, 2 * 0.0009765625)]
    public void PValue_of_equal_times_is_that_of_tossed_coins(int one, int other, double p) =>
        PoissonRates.PValue(one, 5, other, 5).Should().BeApproximately(p, 1e-12);

    [Fact]
    [Source("M. Hollander and D. A. Wolfe, Nonparametric Statistical Methods, 1973, p. 69 (data in R's wilcox.test, from memory); p by the normal approximation, recomputed by hand")]
    public void PValue_of_ranks_follows_the_normal_approximation()
    {
        double[] atTerm = [0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46];
        double[] earlier = [1.15, 0.88, 0.90, 0.74, 1.21];

        // W = 35 of 50 pairs; z = (35 - 25 - 0.5) / sqrt(10 * 5 * 16 / 12) = 1.16351; two-sided 0.24462.
        RankSum.PValue(atTerm, earlier).Should().BeApproximately(0.2446, 5e-4);
        RankSum.PValue(earlier, atTerm).Should().BeApproximately(0.2446, 5e-4, "the order of the samples does not matter");
    }

    [Fact]
    public void PValue_of_ranks_is_not_told_of_too_few_or_all_the_same()
    {
        RankSum.PValue([1, 2, 3], [4, 5, 6, 7]).Should().BeNull();
        RankSum.PValue([2, 2, 2, 2], [2, 2, 2, 2]).Should().BeNull();
    }
}
