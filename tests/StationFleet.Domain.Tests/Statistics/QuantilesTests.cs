using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Tests.Statistics;

public sealed class QuantilesTests
{
    [Theory]
    [Source("NumPy manual, numpy.percentile: of 10, 7, 4, 3, 2, 1 the 50th percentile is 3.5; the ends are least and greatest")]
    [InlineData(0.5, 3.5)]
    [InlineData(0, 1)]
    [InlineData(1, 10)]
    public void Of_matches_the_published_example(double share, double expected)
    {
        double[] values = [10, 7, 4, 3, 2, 1];

        Quantiles.Of(values, share).Should().BeApproximately(expected, 1e-12);
        values[0].Should().Be(10, "the values are not changed");
    }
}
