using StationFleet.Domain.Sampling;
using StationFleet.Domain.Tests.Statistics;
using static StationFleet.Domain.Tests.Sampling.RemovalEstimateTests;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class MonthRankingTests
{
    [Fact]
    [Source("British doctors, Breslow 1985, as R's boot::breslow: glm(deaths ~ age, poisson, offset) by R 4.2.2: X² 20.0800024737 on 5 d.f.")]
    public void Rates_and_scatter_of_the_doctors_are_those_of_R()
    {
        (int Deaths, double Years)[][] ages =
        [
            [(2, 18790), (32, 52407)], [(12, 10673), (104, 43248)], [(28, 5710), (206, 28612)], [(28, 2585), (186, 12663)], [(31, 1462), (102, 5317)],
        ];
        TankPeriod[] periods =
        [
            .. ages.SelectMany((rows, age) => rows.Select((row, i) => SeasonTotalTests.Month(age + 4, [row.Deaths]).Single() with
            {
                Id = $"{age}-{i}", Grabs = [Grab("A", row.Deaths, row.Years)],
            })),
        ];

        MonthRanking ranking = MonthRanking.Of(Mussel, MonthMeasure.Concentration, periods);

        // R stops its iterations early.
        ranking.ChiSquare.Should().BeApproximately(20.0800024737, 1e-4);
        ranking.Freedom.Should().Be(5);
        ranking.Scatter.Should().BeApproximately(4.01600, 1e-4);
        double[] rates = [.. ranking.Months.Select(month => month.Value!.Value.Value)];
        Math.Log(rates[0]).Should().BeApproximately(-7.64684543618, 1e-8);
        double[] coefficients = [1.50516033588, 2.65862472458, 3.38061782531, 3.71560968697];
        for (int i = 0; i < coefficients.Length; i++)
        {
            Math.Log(rates[i + 1] / rates[0]).Should().BeApproximately(coefficients[i], 1e-8);
        }

        ranking.IsCompared.Should().BeFalse("two periods a month and five degrees of freedom are too few");
        ranking.CanBeHighest.Should().HaveCount(5);
    }

    [Fact]
    public void The_ratio_and_its_chance_follow_from_the_closed_form()
    {
        // Six periods in each of two months, no more scatter than chance: φ = 1, 10 degrees of freedom, t = 2.228139.
        TankPeriod[] periods = [.. SeasonTotalTests.Month(6, [10], [11], [9], [10], [12]), .. SeasonTotalTests.Month(7, [20], [21], [19], [20], [22]), .. SeasonTotalTests.Month(8, [20], [21], [19], [20], [18])];

        MonthRanking ranking = MonthRanking.Of(Mussel, MonthMeasure.Concentration, periods);

        ranking.Scatter.Should().Be(1);
        ranking.Freedom.Should().Be(12);
        ranking.Highest.Should().Be(7);
        MonthResult june = ranking.Months[0];
        double error = Math.Sqrt((1 / 52.0) + (1 / 102.0));
        june.RatioToHighest!.Value.Value.Should().BeApproximately(102 / 52.0, 1e-12);
        june.RatioToHighest.Value.Low.Should().BeApproximately(102 / 52.0 * Math.Exp(-2.1788128297 * error), 1e-7);
        june.CanBeHighest.Should().BeFalse();
        ranking.CanBeHighest.Should().Equal(7, 8);
    }

    [Theory]
    [Source("sample sizes for a ratio of Poisson rates, (z + 0.8416)²(1 + 1/RR)/ln²RR; figures computed with scipy 1.10")]
    [InlineData(2, 5, 37)]
    [InlineData(3, 5, 13)]
    [InlineData(5, 5, 6)]
    [InlineData(2, 1, 25)]
    [InlineData(3, 1, 9)]
    [InlineData(5, 1, 4)]
    [InlineData(1.5, 5, 119)]
    public void Counts_needed_are_the_tabulated_ones(double ratio, int comparisons, double expected) =>
        Math.Ceiling(MonthComparison.CountNeeded(ratio, comparisons, 1)).Should().Be(expected);

    [Fact]
    public void Load_weighs_the_concentration_by_the_months_water()
    {
        TankPeriod[] periods =
        [
            .. SeasonTotalTests.Month(6, [10], [11], [9], [10], [10], []),
            .. SeasonTotalTests.Month(7, [20], [21], [19], [20], [20]),
            .. SeasonTotalTests.Month(8, [12], [13], [12], [12], [12]).Select(period => period with { Water = new CollectedWater(1000, 10, 0) }),
        ];

        MonthRanking concentration = MonthRanking.Of(Mussel, MonthMeasure.Concentration, periods);
        MonthRanking load = MonthRanking.Of(Mussel, MonthMeasure.Load, periods);

        concentration.Highest.Should().Be(7);
        load.Highest.Should().Be(8);
        load.Months[0].Value!.Value.Value.Should().BeApproximately(10 * 600, 1e-9, "the water of the period without a sample belongs to the month");
        load.CanBeHighest.Should().Equal(8);
        load.CarriesASentence.Should().BeTrue();
    }

    [Fact]
    public void A_month_with_few_samples_cannot_be_ruled_out_and_months_alike_get_advice()
    {
        TankPeriod[] periods =
        [
            .. SeasonTotalTests.Month(5, [1]),
            .. SeasonTotalTests.Month(6, [10], [14], [9], [10], [12]),
            .. SeasonTotalTests.Month(7, [13], [16], [11], [15], [14]),
            .. SeasonTotalTests.Month(8, [0], [0], [0], [0], [0]),
        ];

        MonthRanking ranking = MonthRanking.Of(Mussel, MonthMeasure.Concentration, periods);

        ranking.CanBeHighest.Should().Equal(5, 6, 7);
        ranking.CarriesASentence.Should().BeFalse();
        ranking.Months[3].CanBeHighest.Should().BeFalse("none in five tanks");
        ranking.Months[3].RatioToHighest!.Value.High.Should().Be(double.PositiveInfinity);
        ranking.Advice!.Month.Should().Be(6);
        ranking.Advice.PeriodsNeeded.Should().BeGreaterThan(5);
    }

    [Fact]
    public void Another_mesh_and_a_contaminated_blank_leave_a_sample_out()
    {
        TankPeriod[] periods = [.. SeasonTotalTests.Month(6, [10], [10], [10], [500], [700])];
        periods[3] = periods[3] with { MeshMicrometres = 153 };
        periods[4] = periods[4] with { Blanks = [new Blank("B", [new OrganismCount("mussel", 2)])] };

        MonthRanking.Of(Mussel, MonthMeasure.Concentration, periods).Months[0].Count.Should().Be(30);
    }

    [Fact]
    public void Nothing_found_ranks_nothing()
    {
        MonthRanking ranking = MonthRanking.Of(Mussel, MonthMeasure.Load, [.. SeasonTotalTests.Month(6, [0], [0]), .. SeasonTotalTests.Month(7, [[]])]);

        ranking.Highest.Should().BeNull();
        ranking.IsCompared.Should().BeFalse();
        Digits.Hold(ranking.Months[0].Value!.Value.High, 3.68887945411 / 2 * 200);
        ranking.Months[1].Value.Should().BeNull();
    }
}
