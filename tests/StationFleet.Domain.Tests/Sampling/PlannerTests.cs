using StationFleet.Domain.Sampling;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Tests.Statistics;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class PlannerTests
{
    [Theory]
    [Source("P = 1 − exp(−cV), Green and Young, Ecol. Appl. 3, 351–356, 1993; digits computed with mpmath")]
    [InlineData(0.01, 0.95, 299.57)]
    [InlineData(0.1, 0.95, 29.957)]
    [InlineData(1, 0.95, 2.996)]
    [InlineData(0.01, 0.80, 160.94)]
    [InlineData(0.1, 0.80, 16.09)]
    [InlineData(1, 0.80, 1.609)]
    public void LitresFor_gives_the_tabulated_volumes(double perLitre, double probability, double litres)
    {
        double found = Detection.LitresFor(perLitre, probability);

        Digits.Hold(found, litres);
        Detection.LitresFor(perLitre, probability, 0.5).Should().BeApproximately(2 * found, 1e-9);
    }

    [Fact]
    [Source("Green and Young, Ecol. Appl. 3, 351–356, 1993, negative binomial: −ln(0.05)/(5 ln 1.1) = 6.286 grabs")]
    public void GrabPlan_finds_the_fewest_grabs_that_are_enough()
    {
        ExpectedTank tank = new(0.5, 1, Patchiness.Known(5), 0.05);

        GrabPlan plan = GrabPlan.ToDetect(tank, 0.95)!;

        plan.Grabs.Should().Be(7);
        GrabPlan.Of(tank, plan.Grabs - 1).Detection.Should().BeLessThan(0.95);
        GrabPlan.ToDetect(tank with { PerLitre = 0.001 }, 0.95).Should().BeNull();
        GrabPlan narrow = GrabPlan.ToNarrow(tank with { PerLitre = 20 }, 2)!;
        narrow.Factor.Should().BeLessThanOrEqualTo(2);
        GrabPlan.Of(tank with { PerLitre = 20 }, narrow.Grabs - 1).Factor.Should().BeGreaterThan(2);
        GrabPlan.Of(tank with { PerLitre = 0.1 }, 1).Factor.Should().Be(double.PositiveInfinity);
    }

    [Fact]
    public void Calendar_gives_each_month_its_samples_first_and_then_those_that_pay_most()
    {
        List<ExpectedPumpOut> season = [.. Month(6, 8, 1), .. Month(7, 8, 10), .. Month(8, 8, 2)];

        SamplingCalendar.Plan(season, 200, 100, 1, 0.4).Months.Select(month => month.Samples).Should().Equal(0, 1, 1);
        SamplingCalendar.Plan(season, 900, 100, 1, 0.4).Months.Select(month => month.Samples).Should().Equal(3, 3, 3);
        SamplingCalendar calendar = SamplingCalendar.Plan(season, 1350, 100, 1, 0.4);

        calendar.Months.Select(month => month.Samples).Should().Equal(3, 7, 3);
        calendar.Left.Should().Be(50);
        calendar.Samples.Count(sample => sample.Reason == SampleReason.PaysMost).Should().Be(4);
        calendar.Samples.Should().OnlyContain(sample => sample.Due == sample.PumpOutExpected.AddDays(-1));
        calendar.Samples.Should().OnlyHaveUniqueItems().And.BeInAscendingOrder(sample => sample.Due);
    }

    [Fact]
    [Source("optimum allocation by trying every split (a second, independent method)")]
    public void Calendar_is_as_good_as_the_best_split_of_all()
    {
        List<ExpectedPumpOut> season = [.. Month(6, 9, 3), .. Month(7, 9, 7), .. Month(8, 9, 4)];
        double[] organisms = [.. season.GroupBy(one => one.Day.Month).Select(month => month.Sum(one => one.Organisms))];
        double best = double.MaxValue;
        for (int june = 3; june <= 9; june++)
        {
            for (int july = 3; july <= 9; july++)
            {
                int august = 16 - june - july;
                if (august is >= 3 and <= 9)
                {
                    int[] samples = [june, july, august];
                    best = Math.Min(best, organisms.Zip(samples, (total, n) => total * total * ((1 - (n / 9.0)) + 0.16) / n).Sum());
                }
            }
        }

        SamplingCalendar calendar = SamplingCalendar.Plan(season, 16, 1, 1, 0.4);

        calendar.RelativeError.Should().BeApproximately(Math.Sqrt(best) / organisms.Sum(), 1e-12);
    }

    [Fact]
    public void Calendar_without_money_or_pump_outs_is_empty_and_promises_nothing()
    {
        SamplingCalendar.Plan([.. Month(6, 3, 1)], 0, 10, 1, 0.4).Should().Match<SamplingCalendar>(plan => plan.Samples.Count == 0 && plan.RelativeError == null);
        SamplingCalendar.Plan([], 100, 10, 1, 0.4).Months.Should().BeEmpty();
        SamplingCalendar.Plan([.. Month(6, 3, 1)], 1000, 10, 1, 0.4).Samples.Should().HaveCount(3, "no tank is sampled twice");
    }

    [Fact]
    public void Plans_are_told_in_sentences()
    {
        PlanWords.ToDetect(0.1, 0.95).Should().Be("For a 95 % probability of detection at one organism per 10 L, examine 30 L of well-mixed tank water.");
        PlanWords.Of(GrabPlan.Of(new ExpectedTank(20, 1, Patchiness.Known(double.PositiveInfinity), 0), 3))
            .Should().Be("Three grabs (3 L looked at) find it with 100 % probability and give an interval from about 1/1.3 to 1.3 times the estimate.");
        Enum.GetValues<SampleReason>().Select(PlanWords.Why).Should().OnlyHaveUniqueItems();
    }

    private static IEnumerable<ExpectedPumpOut> Month(int month, int count, double perLitre) =>
        Enumerable.Range(0, count).Select(i => new ExpectedPumpOut("COP-1", "Dam Road", new DateOnly(2026, month, 2 + (3 * i)), 100, perLitre));
}
