using MathNet.Numerics.Distributions;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Tests.Statistics;

public sealed class BoundsTests
{
    [Theory]
    [Source("exact Poisson limits at 95 % as commonly tabulated after Garwood 1936 (from memory)")]
    [InlineData(0, 0, 3.689)]
    [InlineData(1, 0.0253, 5.572)]
    [InlineData(5, 1.6235, 11.668)]
    [InlineData(10, 4.7954, 18.390)]
    public void Rate_gives_the_tabulated_limits(int count, double low, double high)
    {
        Bounded rate = Bounds.Rate(count, 2);

        (rate.Value, rate.Low * 2, rate.High * 2).Should().Be((count / 2.0, rate.Low * 2, rate.High * 2));
        (rate.Low * 2).Should().BeApproximately(low, 0.0005);
        (rate.High * 2).Should().BeApproximately(high, 0.0005);
    }

    [Fact]
    public void Share_leaves_a_tail_of_a_fortieth_on_either_side()
    {
        // The definition itself, by another distribution.
        for (int count = 1; count < 20; count++)
        {
            Bounded share = Bounds.Share(count, 20);

            (1 - Binomial.CDF(share.Low, 20, count - 1)).Should().BeApproximately(0.025, 1e-6);
            Binomial.CDF(share.High, 20, count).Should().BeApproximately(0.025, 1e-6);
        }
    }

    [Fact]
    [Source("closed form of the Clopper-Pearson limits for no success: 1 − 0.025^(1/n)")]
    public void Share_of_nothing_and_of_all_is_bounded_by_the_closed_form()
    {
        Bounds.Share(0, 10).High.Should().BeApproximately(1 - Math.Pow(0.025, 0.1), 1e-9);
        Bounds.Share(0, 10).Low.Should().Be(0);
        Bounds.Share(10, 10).Low.Should().BeApproximately(Math.Pow(0.025, 0.1), 1e-9);
        Bounds.Share(10, 10).High.Should().Be(1);
    }

    [Theory]
    [Source("ranks of the sign test's interval for a median at 95 %, as commonly tabulated (from memory)")]
    [InlineData(6, 1, 6)]
    [InlineData(10, 2, 9)]
    [InlineData(20, 6, 15)]
    [InlineData(50, 18, 33)]
    public void Median_is_bounded_by_the_tabulated_ranks(int count, int low, int high)
    {
        Bounded median = Bounds.Median(Enumerable.Range(1, count).Reverse().Select(value => (double)value));

        (median.Value, median.Low, median.High).Should().Be(((count + 1) / 2.0, low, high));
    }

    [Fact]
    public void Median_bears_what_was_never_seen()
    {
        double never = double.PositiveInfinity;

        Bounds.Median([1, 2, 3, never, never, never, never]).Value.Should().Be(never);
        Bounds.Median([1, 2, never, never]).Value.Should().Be(never);
        Bounds.Median([1, 2, 3]).High.Should().Be(never, "three values bound nothing");
        Bounds.Median([]).Value.Should().Be(double.NaN);
    }

    [Fact]
    [Source("Cochran, Sampling Techniques, 3rd ed. 1977, ch. 6 (from memory), worked by hand: 3 clusters of (4, 5), (2, 5), (3, 5)")]
    public void A_share_of_clusters_is_bounded_by_how_much_clusters_differ()
    {
        Bounded share = Bounds.ClusteredShare([(4, 5), (2, 5), (3, 5), (0, 0)]);

        // Share 0.6, deviations 1, -1, 0: error = sqrt(3/2 * 2) / 15, t(2) = 4.3027.
        share.Value.Should().BeApproximately(0.6, 1e-12);
        share.Low.Should().BeApproximately(0.6 - (4.3027 * Math.Sqrt(3) / 15), 1e-4);
        share.High.Should().Be(1);
    }
}
