using StationFleet.Domain.Sampling;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Tests.Statistics;
using static StationFleet.Domain.Tests.Sampling.RemovalEstimateTests;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class SeasonTotalTests
{
    private static readonly Patchiness WellMixed = Patchiness.Known(double.PositiveInfinity);

    [Fact]
    [Source("worked example of a two-stage ratio estimate, computed with scipy 1.10 (an independent program); the formula after Cochran 1977 ch. 11, from memory")]
    public void Half_of_the_periods_sampled_expand_as_worked()
    {
        double[] litres = [80, 120, 100, 140, 90, 110, 130, 70, 100, 60];
        Dictionary<int, int[]> counts = new() { [1] = [2, 1, 3], [3] = [9, 14, 10], [5] = [22, 18, 31], [7] = [6, 4, 7], [9] = [0, 1, 0] };
        TankPeriod[] periods = [.. litres.Select((volume, i) => Period(volume, 0.05, counts.GetValueOrDefault(i) ?? []) with { Id = $"P{i}" })];

        SeasonTotal total = SeasonTotal.Of(Mussel, periods, Estimates(periods));

        total.Kind.Should().Be(SeasonTotalKind.Expanded);
        SeasonStratum stratum = total.Strata.Should().ContainSingle().Subject;
        stratum.PerLitre.Should().BeApproximately(9.6, 1e-12);
        Digits.Hold(stratum.BetweenVariance, 9123362.2222);
        Digits.Hold(stratum.WithinVariance, 419977.0000);
        Digits.Hold(stratum.UnsampledVolumeVariance, 11842.56);
        Digits.Hold(total.StandardError!.Value, 3091.1457071);
        total.Freedom.Should().BeApproximately(4, 1e-12);
        total.Estimate!.Value.Value.Should().BeApproximately(9600, 1e-9);
        Digits.Hold(total.MeasuredPart.Low, 3986.256);
        Digits.Hold(total.MeasuredPart.High, 5867.635);

        // The plain log-t interval of these figures is 3926.559 to 23470.932; ours is moved up, as the periods differ by g = 0.97.
        const double t4 = 2.7764451052; // t, 4 degrees of freedom, 97.5 %: printed in any table
        double lnError = 3091.1457071 / 9600;
        (9600 * Math.Exp(t4 * lnError)).Should().BeApproximately(23470.932, 0.001);
        double g = Math.Sqrt((912336.2222 / (960 * 960)) - (419977.0 / 10 / (960 * 960)));
        total.Estimate.Value.High.Should().BeApproximately(9600 * Math.Exp(t4 * (1 + (0.45 * g)) * lnError), 0.01);
        total.Estimate.Value.Low.Should().BeApproximately(9600 * Math.Exp(-0.9 * t4 / (1 + (0.2 * g)) * lnError), 0.01);
        (total.SampledPeriods, total.Periods, total.SampledLitres, total.Litres).Should().Be((5, 10, 500, 1000));
        total.Labels.Should().Equal(SeasonLabel.AssumesAlike);
    }

    [Theory]
    [InlineData("one month of 10 tanks, 5 sampled")]
    [InlineData("6 months of 2 tanks, 1 sampled in each")]
    public void Half_sampled_seasons_whose_tanks_differ_by_twice_their_mean_are_held_nine_times_in_ten(string name)
    {
        SeasonDesign design = SeasonDesign.All.Single(one => one.Name == name);

        SeasonCell cell = SeasonCoverage.Try(design, 2, 10, 1500, seed: 31);

        // The limits were tried on other seeds; docs/estimates.md has the table. 1,500 seasons: ±1.4 by luck.
        cell.Share.Value.Should().BeGreaterThan(0.908);
    }

    [Fact]
    public void A_month_without_a_sample_is_named_and_not_expanded_into()
    {
        TankPeriod[] periods =
        [
            .. Month(6, [4, 5, 6], [5, 4, 6], [6, 5, 4], []),
            .. Month(7, [], []),
            .. Month(8, [9, 9, 9], [8, 9, 10]),
        ];

        SeasonTotal total = SeasonTotal.Of(Mussel, periods, Estimates(periods));

        total.MonthsMissing.Should().Equal(7);
        total.MonthsCovered.Should().Equal(6, 8);
        total.Kind.Should().Be(SeasonTotalKind.Expanded);
        total.Estimate!.Value.Value.Should().BeApproximately((100 * 5 * 4) + (100 * 9 * 2), 1e-9, "July's water is not in it");
        total.Labels.Should().Contain(SeasonLabel.MonthsMissing);
    }

    [Fact]
    public void All_sampled_periods_add_up_without_a_t()
    {
        TankPeriod[] periods = [.. Month(6, [4, 5, 6], [3, 4, 5])];
        IReadOnlyList<RemovalEstimate> estimates = Estimates(periods);

        SeasonTotal total = SeasonTotal.Of(Mussel, periods, estimates);

        total.Kind.Should().Be(SeasonTotalKind.WhollySampled);
        total.Estimate.Should().Be(Mover.Sum(estimates.Cast<RemovalEstimate.Made>().Select(made => made.Organisms)));
        total.Labels.Should().BeEmpty();
    }

    [Fact]
    public void Two_samples_of_many_periods_are_not_expanded()
    {
        TankPeriod[] periods = [.. Month(6, [4, 5, 6], [3, 4, 5], [], [])];

        SeasonTotal total = SeasonTotal.Of(Mussel, periods, Estimates(periods));

        total.Kind.Should().Be(SeasonTotalKind.MeasuredPartOnly);
        total.Estimate.Should().BeNull();
        total.MeasuredPart.Value.Should().BeApproximately(900, 1e-9);
    }

    [Fact]
    public void Months_with_one_sample_of_several_periods_join_their_nearest_neighbour()
    {
        TankPeriod[] periods = [.. Month(5, [4], []), .. Month(6, [5], []), .. Month(8, [9, 9, 9], [8, 9, 10]), .. Month(9, [1], [])];

        SeasonTotal total = SeasonTotal.Of(Mussel, periods, Estimates(periods));

        total.Strata.Select(stratum => string.Join('+', stratum.Months)).Should().Equal("5+6", "8+9");
    }

    [Fact]
    public void Nothing_in_any_sample_leaves_an_upper_limit_for_all_the_water()
    {
        TankPeriod[] periods = [.. Month(6, [0, 0, 0], [0, 0, 0], [0, 0, 0], [])];

        SeasonTotal total = SeasonTotal.Of(Mussel, periods, Estimates(periods));

        // Well mixed: the Poisson limit of no count in 9 L, for 400 L.
        total.Estimate!.Value.Low.Should().Be(0);
        total.Estimate.Value.High.Should().BeApproximately(3.68887945411 / 9 * 400, 2, "the volumes' uncertainty adds less than one in a hundred");
        total.Labels.Should().Contain(SeasonLabel.NoneFound);
    }

    [Fact]
    public void A_withheld_estimate_counts_as_no_sample()
    {
        TankPeriod dirty = Month(6, [4, 5, 6]).Single() with { Blanks = [new Blank("B", [new OrganismCount("mussel", 1)])] };

        SeasonTotal total = SeasonTotal.Of(Mussel, [dirty], SeasonEstimates.Of([dirty]));

        (total.Kind, total.Estimate, total.Periods, total.SampledPeriods).Should().Be((SeasonTotalKind.NothingSampled, null, 1, 0));
        total.MonthsMissing.Should().Equal(6);
    }

    [Fact]
    public void One_period_that_weighs_most_makes_the_interval_about_ninety_per_cent()
    {
        TankPeriod[] periods = [.. Month(6, [400, 450, 420], [3, 4, 5], [6, 5, 4], [])];

        SeasonTotal.Of(Mussel, periods, Estimates(periods)).Labels.Should().Contain(SeasonLabel.AboutNinetyPercent);
    }

    [Fact]
    [Source("Penn State STAT 506 lesson 6.1 (television hours of Scheaffer, Mendenhall and Ott, raw data from memory): T = 8579.25, d.f. 21.09; digits by R 4.2.2")]
    public void Strata_of_equal_volumes_give_the_stratified_total_of_a_course()
    {
        int[] townA = [35, 43, 36, 39, 28, 28, 29, 25, 38, 27, 26, 32, 29, 40, 35, 41, 37, 31, 45, 34];
        int[] townB = [27, 15, 4, 41, 49, 25, 10, 30];
        int[] rural = [8, 14, 12, 15, 30, 32, 21, 20, 34, 7, 11, 24];
        TankPeriod[] periods = [.. Town(5, 155, townA), .. Town(6, 62, townB), .. Town(7, 93, rural)];

        SeasonTotal total = SeasonTotal.Of(Mussel, periods, Estimates(periods));

        // Each collection is 100 L of which one was looked at, so that all is a hundredfold.
        (total.Estimate!.Value.Value / 100).Should().BeApproximately(8579.25, 1e-8);
        (total.Strata.Sum(stratum => stratum.BetweenVariance) / 10_000).Should().BeApproximately(189270.8085697, 1e-6);
        total.Freedom.Should().BeApproximately(21.0896120, 1e-7);

        static IEnumerable<TankPeriod> Town(int month, int households, int[] hours) => Enumerable.Range(0, households).Select(i => Period(100, 0) with
        {
            Id = $"{month}-{i}", From = new DateOnly(2026, month, 10), To = new DateOnly(2026, month, 12), Grabs = i < hours.Length ? [Grab("A", hours[i], 1)] : [],
        });
    }

    internal static IEnumerable<TankPeriod> Month(int month, params int[][] counts) => counts.Select((grabs, i) => Period(100, 0.05, grabs) with
    {
        Id = $"{month}-{i}", From = new DateOnly(2026, month, 1 + (i * 5)), To = new DateOnly(2026, month, 3 + (i * 5)),
    });

    private static IReadOnlyList<RemovalEstimate> Estimates(IEnumerable<TankPeriod> periods) =>
    [
        .. periods.Where(period => period.Grabs.Count > 0)
            .Select(period => RemovalEstimate.Of(period, Mussel, CountedGrabs.Of(period, Mussel)!, WellMixed)),
    ];
}
