using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Tests.Statistics;

public sealed class PublishedLimitsTests
{
    private const string Independent = "computed with mpmath 1.3 at 30 digits and R 4.2.2 (independent libraries)";

    [Theory]
    [Source("F. Garwood, Biometrika 28, 437–442, 1936 (from memory); digits " + Independent)]
    [InlineData(0, 0, 3.68887945411)]
    [InlineData(1, 0.0253178079843, 5.57164339094)]
    [InlineData(2, 0.242209278544, 7.22468766772)]
    [InlineData(3, 0.618672122896, 8.76727306974)]
    [InlineData(5, 1.62348639012, 11.6683320793)]
    [InlineData(10, 4.79538869613, 18.390356042)]
    [InlineData(20, 12.2165195854, 30.8883779027)]
    [InlineData(27, 17.79317013, 39.28358245)]
    [InlineData(50, 37.1109637375, 65.9187666643)]
    [InlineData(100, 81.3639912509, 121.626793792)]
    [InlineData(200, 173.240882681, 229.721981665)]
    [InlineData(500, 457.1285769, 545.809268565)]
    [InlineData(1000, 938.973018408, 1063.95213602)]
    public void Rate_and_CountLimits_in_well_mixed_water_are_Garwoods(int count, double low, double high)
    {
        Bounded rate = Bounds.Rate(count, 1);
        CountLimits limits = CountLimits.Of(count, Patchiness.Known(double.PositiveInfinity), 1);

        Digits.Hold(rate.Low, low);
        Digits.Hold(rate.High, high);
        Digits.Hold(limits.Low, low);
        Digits.Hold(limits.High, high);
    }

    [Theory]
    [Source("median-unbiased Poisson means; digits " + Independent)]
    [InlineData(0, 0.69314718)]
    [InlineData(1, 1.678347)]
    [InlineData(2, 2.6740603)]
    [InlineData(3, 3.6720607)]
    [InlineData(5, 5.6701612)]
    [InlineData(10, 10.668522)]
    [InlineData(20, 20.667624)]
    [InlineData(50, 50.667057)]
    [InlineData(100, 100.66686)]
    public void CountLimits_are_split_by_the_median_unbiased_value(int count, double median) =>
        Digits.Hold(CountLimits.Of(count, Patchiness.Known(double.PositiveInfinity), 1).Median, median);

    [Theory]
    [Source("R. G. Newcombe, Stat. Med. 17, 857–872, 1998, table I (from memory); 7/50: scipy's documentation of binomtest; digits " + Independent)]
    [InlineData(81, 263, 0.2527367456, 0.3676219226, 0.2552885199, 0.3662095770)]
    [InlineData(15, 148, 0.0578440101, 0.1616504903, 0.0623863995, 0.1604872417)]
    [InlineData(0, 20, 0, 0.1684334710, 0, 0.1611251581)]
    [InlineData(1, 29, 0.0008726469, 0.1776442955, 0.0061132143, 0.1717552188)]
    [InlineData(7, 50, 0.05819170034, 0.26739600250, 0.0695083343, 0.2618619371)]
    public void Share_and_ScoreShare_give_the_published_limits(int count, int trials, double low, double high, double scoreLow, double scoreHigh)
    {
        Bounded exact = Bounds.Share(count, trials);
        Bounded score = Bounds.ScoreShare(count, trials);

        exact.Low.Should().BeApproximately(low, 6e-11);
        exact.High.Should().BeApproximately(high, 6e-11);
        score.Low.Should().BeApproximately(scoreLow, 6e-11);
        score.High.Should().BeApproximately(scoreHigh, 6e-11);
    }

    [Fact]
    [Source("R documentation of poisson.test: 137 events in 24.19893")]
    public void Rate_gives_the_limits_of_R()
    {
        Bounded rate = Bounds.Rate(137, 24.19893);

        Digits.Hold(rate.Value, 5.661407);
        Digits.Hold(rate.Low, 4.753125);
        Digits.Hold(rate.High, 6.692709);
    }

    [Fact]
    [Source("Bliss and Fisher, Biometrics 9, 176–200, 1953, red mites on 150 apple leaves; digits " + Independent)]
    public void NegativeBinomial_fits_the_mites_on_apple_leaves()
    {
        int[] leaves = [70, 38, 17, 10, 9, 3, 2, 1];
        double[] expected = [69.488, 37.600, 20.101, 10.703, 5.687, 3.018, 1.600, 0.848];
        const double mean = 172.0 / 150;
        const double size = 1.02459238679;

        double LogLikelihood(double k) => leaves.Select((number, count) => number * NegativeBinomial.LogProbability(count, mean, k)).Sum();

        Digits.Hold(2 * LogLikelihood(size), -444.874307197);
        LogLikelihood(size).Should().BeGreaterThan(LogLikelihood(size - 1e-4)).And.BeGreaterThan(LogLikelihood(size + 1e-4));
        ((LogLikelihood(size + 1e-3) - LogLikelihood(size - 1e-3)) / 2e-3).Should().BeApproximately(0, 1e-4);
        for (int count = 0; count < expected.Length; count++)
        {
            (150 * Math.Exp(NegativeBinomial.LogProbability(count, mean, size))).Should().BeApproximately(expected[count], 6e-4);
        }

        (150 * (1 - NegativeBinomial.AtMost(7, mean, size).Chance)).Should().BeApproximately(0.955, 6e-4);
    }

    [Fact]
    [Source("Bliss and Fisher, Biometrics 9, 176–200, 1953: χ² = 295.44186 with 149 degrees of freedom, p = 1.02e-11; digits " + Independent)]
    public void Patchiness_of_the_mites_is_that_of_their_published_size()
    {
        int[] leaves = [70, 38, 17, 10, 9, 3, 2, 1];
        int[] counts = [.. leaves.SelectMany((number, count) => Enumerable.Repeat(count, number))];

        Patchiness patchiness = Patchiness.From([new ReplicateSet(counts, [.. counts.Select(_ => 1.0)])]);

        Digits.Hold(patchiness.Dispersion.ChiSquare, 295.44186);
        patchiness.Dispersion.Freedom.Should().Be(149);
        patchiness.Dispersion.Chance.Should().BeApproximately(1.02e-11, 5e-14);

        // The published k has a standard error of 0.276, so CV = k^-½ has one of 0.13; the posterior's mean lies well within that.
        patchiness.MeanCv.Should().BeApproximately(1 / Math.Sqrt(1.02459238679), 0.05);
    }

    [Theory]
    [Source("limits of a count with a known size by the F distribution; digits by R 4.2.2")]
    [InlineData(0, 1, 0, 39)]
    [InlineData(0, 5, 0, 5.4563955)]
    [InlineData(3, 5, 0.54931737, 15.419564)]
    [InlineData(10, 2, 2.845197, 93.865671)]
    [InlineData(10, 5, 3.6053298, 37.28648)]
    [InlineData(10, 15, 4.2578513, 23.794425)]
    [InlineData(100, 5, 47.325844, 314.68712)]
    [InlineData(100, 15, 60.965131, 185.32472)]
    public void CountLimits_of_a_known_size_are_those_by_the_F_distribution(int count, double size, double low, double high)
    {
        CountLimits limits = CountLimits.Of(count, Patchiness.Known(size), 1);

        Digits.Hold(limits.Low, low);
        Digits.Hold(limits.High, high);
    }

    [Fact]
    [Source("R 4.2.2, p.adjust(c(.01, .04, .03, .005), 'holm')")]
    public void Holm_adjusts_as_R_does() =>
        Holm.Adjust([0.01, 0.04, 0.03, 0.005]).Should().BeEquivalentTo([0.03, 0.06, 0.06, 0.02], options => options.WithStrictOrdering()
            .Using<double>(context => context.Subject.Should().BeApproximately(context.Expectation, 1e-15)).WhenTypeIs<double>());

    [Fact]
    [Source("Scheaffer, Mendenhall and Ott, oranges, ch. 6 (data from memory): r = 0.0565517, T = 101.79, bound 6.3; digits " + Independent)]
    public void RatioEstimate_of_the_oranges_is_the_textbooks()
    {
        double[] sugar = [.021, .030, .025, .022, .033, .027, .019, .021, .023, .025];
        double[] weight = [.40, .48, .43, .42, .50, .46, .39, .41, .42, .44];

        RatioEstimate ratio = RatioEstimate.Of([.. weight.Zip(sugar)])!;

        Digits.Hold(ratio.Ratio.Value, 0.0565517241);
        Digits.Hold(ratio.Ratio.Value * 1800, 101.7931034);
        Digits.Hold(ratio.ResidualSd, 0.00241052872);
        Digits.Hold(ratio.StandardError * 1800, 3.154245978);
        Digits.Hold(ratio.Ratio.Low, 0.0523503104);
        Digits.Hold(ratio.Ratio.High, 0.0603046226);
    }

    [Fact]
    [Source("Cochran 1977, table 6.1 (from memory): 49 of 196 cities, Σy 6262, Σx 5054, X 22,919, ratio estimate 28,397")]
    public void RatioEstimate_of_the_cities_is_Cochrans() =>
        Digits.Hold(RatioEstimate.Of([(2000, 2500), (3054, 3762)])!.Ratio.Value * 22_919, 28397.07);

    [Theory]
    [Source("Fieller's limits; digits " + Independent)]
    [InlineData(10, 5, 1, .25, 0, 1.508954, 2.650843)]
    [InlineData(10, 5, 1, 4, 0, 1.072378, 9.307349)]
    [InlineData(20, 8, 4, 1, .5, 1.912735, 3.342687)]
    public void Fieller_gives_the_computed_limits(double a, double b, double va, double vb, double cov, double low, double high)
    {
        Bounded limits = RatioEstimate.Fieller(a, b, va, vb, cov, Quantiles.Normal(0.975));

        Digits.Hold(limits.Low, low);
        Digits.Hold(limits.High, high);
    }

    [Fact]
    public void Fieller_and_the_ratio_say_when_the_data_bound_nothing()
    {
        RatioEstimate.Fieller(1, 1, 1, 4, 0, 1.96).High.Should().Be(double.PositiveInfinity);
        RatioEstimate.Of([(3, 4)]).Should().BeNull();
        RatioEstimate.Of([(0, 0), (0, 0)]).Should().BeNull();
    }

    [Fact]
    [Source("JCGM 100:2008 (GUM) H.1: 16.7, and 25.6 for the part d; inputs also in the MSLNZ GTC example GUM_H1 (other components from memory)")]
    public void Freedom_of_the_end_gauge_is_the_GUMs()
    {
        double Square(double x) => x * x;
        double part = VarianceParts.Freedom([new(Square(5.8), 24), new(Square(3.9), 5), new(Square(6.7), 8)]);
        double whole = VarianceParts.Freedom([new(Square(25), 18), new(Square(9.7), part), new(Square(2.9), 50), new(Square(16.6), 2)]);

        // The GUM rounds the part's standard uncertainty from 9.682 to 9.7 first.
        (part * Math.Pow(9.7 / 9.681942, 4)).Should().BeApproximately(25.64, 0.005);
        whole.Should().BeApproximately(16.76, 0.005);
    }

    [Fact]
    [Source("Penn State STAT 506 lesson 6 (television hours of Scheaffer, Mendenhall and Ott, raw data from memory): d.f. 21.09, t 2.08; digits " + Independent)]
    public void Freedom_of_a_stratified_total_is_the_courses()
    {
        VariancePart[] parts =
        [
            Stratum(155, 20, 35.35789474),
            Stratum(62, 8, 232.41071429),
            Stratum(93, 12, 87.63636364),
        ];

        Digits.Hold(parts.Sum(part => part.Variance), 189270.8085);
        Digits.Hold(VarianceParts.Freedom(parts), 21.089612);
        double t = Quantiles.StudentT(0.975, 21.0896120);
        Digits.Hold(t, 2.0790759);
        Digits.Hold(8579.25 - (t * 435.0526503), 7674.74251);
        Digits.Hold(8579.25 + (t * 435.0526503), 9483.75749);
    }

    [Fact]
    [Source("Siniff and Skoog, J. Wildl. Manage. 28, 391, 1964, caribou, in Krebs (from memory): variance 34,105,734; digits " + Independent)]
    public void Freedom_of_the_caribou_is_Krebs()
    {
        VariancePart[] parts =
        [
            Stratum(400, 98, 5575), Stratum(30, 10, 4064), Stratum(61, 37, 347556),
            Stratum(18, 6, 22798), Stratum(70, 39, 123578), Stratum(120, 21, 9795),
        ];

        Digits.Hold(parts.Sum(part => part.Variance), 34105732.43);
        Digits.Hold(VarianceParts.Freedom(parts), 134.30597);
        double half = Quantiles.StudentT(0.975, 134.30597) * 5840.0113;
        (54496.6 - half).Should().BeApproximately(42946.31, 0.006);
        (54496.6 + half).Should().BeApproximately(66046.89, 0.006);
    }

    [Theory]
    [Source("Student's t as commonly tabulated; four degrees of freedom to eight digits: " + Independent)]
    [InlineData(4, 2.7764451)]
    [InlineData(9, 2.262157163)]
    [InlineData(1, 12.70620474)]
    public void StudentT_and_its_tail_hold_the_digits(double freedom, double expected)
    {
        Digits.Hold(Quantiles.StudentT(0.975, freedom), expected);
        Quantiles.StudentTail(expected, freedom).Should().BeApproximately(0.05, 1e-7);
    }

    [Fact]
    public void Mover_of_one_part_is_that_part_and_of_none_nothing()
    {
        Mover.Sum([new Bounded(3, 1, 7)]).Should().Be(new Bounded(3, 1, 7));
        Mover.Sum([]).Should().Be(new Bounded(0, 0, 0));
        Mover.Sum([new Bounded(3, 0, 6), new Bounded(4, 0, 8)]).Should().Be(new Bounded(7, 2, 12));
    }

    private static VariancePart Stratum(int all, int seen, double variance) => new(all * (double)(all - seen) / seen * variance, seen - 1);
}
