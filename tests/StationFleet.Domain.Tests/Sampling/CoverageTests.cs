using StationFleet.Domain.Sampling;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class CoverageTests
{
    [Fact]
    [Source("coverage and widths of the same method by an independent program (scipy), 4,000 runs a cell: docs/estimates.md")]
    public void Intervals_of_three_grabs_cover_and_are_as_wide_as_an_independent_program_found()
    {
        // (water's k, coverage at 50 /L, upper limit ÷ estimate at 50 /L)
        (int? Size, double Covered, double Upper)[] published = [(null, 98.7, 1.22), (5, 95.5, 1.98), (1, 92.7, 4.75)];
        foreach ((int? size, double covered, double upper) in published)
        {
            CoverageRegime regime = CoverageRegime.All.Single(one => one.Name.StartsWith("3 grabs, 4", StringComparison.Ordinal) && one.Size == size && one.VolumeSd == 0);

            CoverageCell cell = CoverageTrial.Try(regime, 50, 1000, seed: 20261125);

            // Three standard errors of both simulations: 1000 runs here, 4000 there.
            double luck = 300 * Math.Sqrt(covered / 100 * (1 - (covered / 100)) * ((1 / 1000.0) + (1 / 4000.0)));
            (100 * cell.Share.Value).Should().BeApproximately(covered, luck, regime.Water);
            cell.UpperToEstimate.Should().BeInRange(0.9 * upper, 1.1 * upper, regime.Water);
        }
    }

    [Fact]
    public void Unequal_grabs_cover_as_well_as_equal_ones()
    {
        foreach (CoverageRegime regime in CoverageRegime.All.Where(one => one.Name.StartsWith("3 grabs of", StringComparison.Ordinal)))
        {
            CoverageTrial.Try(regime, 5, 1000, seed: 7).Share.High.Should().BeGreaterThan(0.93, regime.Water);
        }
    }

    [Fact]
    public void A_month_that_is_really_highest_is_seldom_ruled_out()
    {
        // All months alike: any of them may be the highest. Ruling out the first is wrong in at most one season of twenty.
        int wrong = 0;
        const int seasons = 400;
        for (int season = 0; season < seasons; season++)
        {
            Random random = new(season);
            List<TankPeriod> periods = [];
            for (int month = 5; month <= 10; month++)
            {
                int[][] counts = [.. Enumerable.Range(0, 4).Select(_ => (int[])[Count(random)])];
                periods.AddRange(SeasonTotalTests.Month(month, counts));
            }

            MonthRanking ranking = MonthRanking.Of(RemovalEstimateTests.Mussel, MonthMeasure.Concentration, periods);
            wrong += ranking.CanBeHighest.Contains(5) ? 0 : 1;
        }

        wrong.Should().BeLessThan((int)(seasons * 0.05));

        // Scattering twice as much as chance alone: the mean itself is drawn.
        static int Count(Random random)
        {
            double mean = 20 * Math.Exp(0.3 * ((random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5) * 2));
            int count = -1;
            for (double sum = 0; sum <= mean; sum -= Math.Log(1 - random.NextDouble()))
            {
                count++;
            }

            return count;
        }
    }
}
