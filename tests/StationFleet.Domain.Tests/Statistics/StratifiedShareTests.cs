using StationFleet.Domain.Simulation;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Tests.Statistics;

public sealed class StratifiedShareTests
{
    [Fact]
    [Source("W. G. Cochran, Sampling Techniques, 3rd ed. 1977, § 3.12: 30 households, Σa 30, Σm 104, Σa² 86, Σam 113, Σm² 404, p = 0.288, v(p) = 0.00520 against 0.00197 of a binomial (from memory; the rows below are arranged to these sums)")]
    public void One_stratum_of_clusters_scatters_as_Cochrans_households()
    {
        int[] persons = [5, 6, 3, 3, 2, 3, 3, 3, 4, 4, 3, 2, 7, 4, 3, 5, 4, 4, 3, 3, 4, 3, 3, 1, 2, 4, 3, 4, 2, 4];
        int[] sawDoctor = [5, 0, 2, 3, 0, 0, 0, 0, 0, 2, 0, 2, 0, 4, 1, 2, 0, 1, 1, 3, 2, 0, 0, 0, 0, 2, 0, 0, 0, 0];
        (sawDoctor.Sum(), persons.Sum(), sawDoctor.Sum(a => a * a), persons.Zip(sawDoctor, (m, a) => m * a).Sum(), persons.Sum(m => m * m))
            .Should().Be((30, 104, 86, 113, 404), "these are the book's sums");

        StratifiedShare doctor = StratifiedShare.Of([new ShareStratum(30, [.. sawDoctor.Zip(persons, (a, m) => new ShareCluster(a, m))])])!;

        doctor.Share.Value.Should().BeApproximately(0.288, 0.0005);

        // Leaving out one household at a time gives a little more than the book's linear form.
        Math.Pow(doctor.StandardError, 2).Should().BeInRange(0.00520, 0.00520 * 1.1);
        doctor.EffectiveTrials.Should().BeInRange(0.9 * 104 * 0.00197 / 0.00520, 104 * 0.00197 / 0.00520);
        doctor.Freedom.Should().BeApproximately(29, 1e-9);
    }

    [Theory]
    [Source("R. G. Newcombe, Stat. Med. 17, 857–872, 1998, table I, Wilson's limits (digits recomputed)")]
    [InlineData(81, 263, 0.2552885199, 0.3662095770)]
    [InlineData(15, 148, 0.0623863995, 0.1604872417)]
    [InlineData(0, 20, 0, 0.1611251581)]
    [InlineData(1, 29, 0.0061132143, 0.1717552188)]
    public void Limits_of_independent_trials_are_Wilsons(int count, int trials, double low, double high)
    {
        Bounded limits = Bounds.ScoreShare((double)count / trials, trials, Quantiles.Normal(0.975));

        Digits.Hold(limits.Low, low);
        Digits.Hold(limits.High, high);
    }

    [Fact]
    public void A_stratum_weighs_as_much_as_there_was_to_watch_and_not_as_much_as_was_watched()
    {
        // Weekends are watched as long as weekdays, which are four times as many hours: 0.2 · (4 · 10) + 0.6 · (1 · 30) of 70.
        ShareStratum weekdays = new(400, [new(2, 10, 4), new(2, 10, 4)]);
        ShareStratum weekends = new(100, [new(18, 30, 4), new(18, 30, 4)]);

        StratifiedShare share = StratifiedShare.Of([weekdays, weekends])!;

        share.Share.Value.Should().BeApproximately(26.0 / 70, 1e-12);
        share.StandardError.Should().BeApproximately(0, 1e-12, "clusters of a stratum are alike");
        share.EffectiveTrials.Should().BeLessThan(80, "the limits are still those of a sample");
        share.Share.Low.Should().BeLessThan(share.Share.Value);
    }

    [Fact]
    public void Clusters_that_tell_nothing_of_their_scatter_give_no_share()
    {
        StratifiedShare.Of([]).Should().BeNull();
        StratifiedShare.Of([new ShareStratum(10, [new(1, 4)]), new ShareStratum(10, [new(2, 4)])]).Should().BeNull();
        StratifiedShare.Of([new ShareStratum(10, [new(0, 0), new(0, 0)])]).Should().BeNull();
    }

    [Fact]
    public void A_share_that_nobody_was_in_has_an_upper_limit()
    {
        Bounded share = StratifiedShare.Of([new ShareStratum(10, [new(0, 12), new(0, 9), new(0, 15)])])!.Share;

        share.Low.Should().Be(0);
        share.High.Should().BeInRange(0.05, 0.4);
    }

    [Theory]
    [InlineData(new[] { 3, 3, 3, 3 }, 0.1, null)]
    [InlineData(new[] { 3, 3, 3, 3 }, 0.4, 19)]
    [InlineData(new[] { 6, 6, 4, 4 }, 0.03, 19)]
    [InlineData(new[] { 6, 6, 4, 4 }, 0.1, 4)]
    [InlineData(new[] { 12, 12, 8, 8 }, 0.4, 4)]
    [InlineData(new[] { 12, 12, 8, 8 }, 0.8, 19)]
    [InlineData(new[] { 1, 4, 4, 4 }, 0.4, 4)]
    public void Intervals_cover_in_nineteen_of_twenty_invented_seasons_or_nearly(int[] shifts, double share, int? unlike)
    {
        const int runs = 1500;
        (double[] hours, double[] boatsPerHour, double[] keen) = ([400, 500, 900, 1100], [16, 24, 5, 6.5], [1.2, .9, 1.1, .8]);
        double[] shares = [.. keen.Select(factor => Math.Min(0.98, factor * share))];
        double truth = Enumerable.Range(0, 4).Sum(h => hours[h] * boatsPerHour[h] * shares[h]) / Enumerable.Range(0, 4).Sum(h => hours[h] * boatsPerHour[h]);
        int covered = 0;
        for (int run = 0; run < runs; run++)
        {
            Dice dice = Dice.For(20261125, $"{string.Join(",", shifts)}|{share}|{unlike}", run);
            Bounded limits = StratifiedShare.Of(
                [.. Enumerable.Range(0, 4).Select(h => new ShareStratum(hours[h], [.. Enumerable.Range(0, shifts[h]).Select(_ => Shift(dice, boatsPerHour[h], shares[h], unlike))]))])!.Share;
            covered += limits.Low <= truth && truth <= limits.High ? 1 : 0;
        }

        // Two standard errors of the simulation above 92 %, at most.
        ((double)covered / runs).Should().BeGreaterThan(0.92);
    }

    // Boats scatter twice as much as by chance alone; the shift's own share is a beta's, or the stratum's.
    private static ShareCluster Shift(Dice dice, double boatsPerHour, double share, int? unlike)
    {
        double hours = 2 + Math.Floor(3 * dice.Next());
        int boats = dice.Poisson(dice.Erlang(4, boatsPerHour * hours));
        double own = unlike is { } k ? Beta(dice, share * k, (1 - share) * k) : share;
        return new ShareCluster(Enumerable.Range(0, boats).Count(_ => dice.Chance(own)), boats, hours);
    }

    private static double Beta(Dice dice, double a, double b)
    {
        double one = Gamma(dice, a);
        return one / (one + Gamma(dice, b));
    }

    // G. Marsaglia and W. W. Tsang, ACM Trans. Math. Softw. 26, 363–372, 2000 (from memory).
    private static double Gamma(Dice dice, double shape)
    {
        if (shape < 1)
        {
            return Gamma(dice, shape + 1) * Math.Pow(1 - dice.Next(), 1 / shape);
        }

        double d = shape - (1 / 3.0);
        while (true)
        {
            double x = dice.Normal();
            double v = Math.Pow(1 + (x / Math.Sqrt(9 * d)), 3);
            if (v > 0 && Math.Log(1 - dice.Next()) < (0.5 * x * x) + d - (d * v) + (d * Math.Log(v)))
            {
                return d * v;
            }
        }
    }
}
