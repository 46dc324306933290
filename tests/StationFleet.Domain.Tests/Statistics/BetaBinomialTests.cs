using StationFleet.Domain.Statistics;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Statistics;

public sealed class BetaBinomialTests
{
    private const string Scipy = "scipy 1.10, betaln and beta.ppf (a second, independent library)";

    [Theory]
    [Source(Scipy)]
    [InlineData(10, 12, 28, 0.0423871572)]
    [InlineData(5, 2, 6, 7.0 / 22)]
    public void LogNone_is_the_chance_of_no_success(int trials, double a, double b, double expected)
    {
        // The published figure has ten digits.
        Math.Exp(BetaBinomial.LogNone(trials, a / (a + b), a + b)).Should().BeApproximately(expected, 1e-10);
    }

    [Fact]
    public void LogNone_multiplied_out_and_by_gamma_functions_agree()
    {
        foreach (double mean in (double[])[0.01, 0.3, 0.9])
        {
            double product = BetaBinomial.LogNone(40, mean, 20) + Math.Log((((1 - mean) * 20) + 40) / 60);
            BetaBinomial.LogNone(41, mean, 20).Should().BeApproximately(product, 1e-10, $"the mean was {mean}");
        }
    }

    [Theory]
    [InlineData(1, 0.3, 20)]
    [InlineData(12, 0.07, 5)]
    [InlineData(60, 0.7, 10)]
    public void LogProbability_sums_to_one_and_has_the_mean_and_begins_with_LogNone(int trials, double mean, double concentration)
    {
        double[] chances = [.. Enumerable.Range(0, trials + 1).Select(k => Math.Exp(BetaBinomial.LogProbability(k, trials, mean, concentration)))];

        chances.Sum().Should().BeApproximately(1, 1e-10);
        chances.Select((chance, k) => k * chance).Sum().Should().BeApproximately(trials * mean, 1e-9);
        Math.Log(chances[0]).Should().BeApproximately(BetaBinomial.LogNone(trials, mean, concentration), 1e-10);
    }

    [Fact]
    [Source(Scipy)]
    public void Nodes_are_the_quantiles_of_the_beta_distribution()
    {
        double[] expected = [0.191151, 0.229945, 0.255102, 0.276423, 0.296638, 0.317401, 0.340559, 0.369725, 0.419252];

        double[] nodes = BetaBinomial.Nodes(12, 28, 9);

        nodes.Should().HaveCount(9);
        for (int i = 0; i < 9; i++)
        {
            nodes[i].Should().BeApproximately(expected[i], 1e-6);
        }
    }

    [Theory]
    [Source(Scipy)]
    [InlineData(0.0719011, 10)]
    [InlineData(0.0549783, 4, 6)]
    [InlineData(0.0440929, 2, 2, 2, 2, 2)]
    [InlineData(0.0151217, 20)]
    public void Chance_of_a_run_of_misses_is_less_when_it_lasts_more_days(double expected, params int[] days)
    {
        DayRun[] run = [.. days.Select((sessions, i) => new DayRun(new DateOnly(2026, 6, 1).AddDays(i), sessions))];

        IdleTool.Chance(run, BetaBinomial.Nodes(12, 28, 9), scatter: 20).Should().BeApproximately(expected, 1e-7);
    }

    [Theory]
    [InlineData(0, 20)]
    [InlineData(1, 20)]
    [InlineData(double.NaN, 20)]
    [InlineData(0.5, 0)]
    [InlineData(0.5, double.NaN)]
    public void A_mean_outside_nought_to_one_or_a_concentration_of_nought_is_refused(double mean, double concentration)
    {
        ((Action)(() => BetaBinomial.LogNone(3, mean, concentration))).Should().Throw<ArgumentOutOfRangeException>();
    }
}
