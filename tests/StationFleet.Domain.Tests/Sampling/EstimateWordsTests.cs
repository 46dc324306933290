using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using static StationFleet.Domain.Tests.Sampling.RemovalEstimateTests;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class EstimateWordsTests
{
    [Fact]
    public void None_found_is_an_upper_limit_and_never_nought_removed()
    {
        RemovalEstimate estimate = SeasonEstimates.Of([Period(100, 0.05, 0, 0, 0)]).Single();

        EstimateWords.Sentence(estimate, UnitSystem.Metric).Should().Be(
            "No individuals of mussel were found; fewer than 157 were in the 100 L collected from 15 to 28 June.");
    }

    [Fact]
    public void Water_is_told_in_the_readers_units()
    {
        RemovalEstimate estimate = SeasonEstimates.Of([Period(120, 0.05, 4, 9, 5)]).Single();

        EstimateWords.Sentence(estimate, UnitSystem.UsCustomary).Should().StartWith("About 720 (363 to 1,650) individuals of mussel were in the 31.7 gal collected");
    }

    [Fact]
    public void Every_label_and_reason_has_words()
    {
        Enum.GetValues<EstimateLabel>().Select(EstimateWords.Label).Should().OnlyHaveUniqueItems().And.OnlyContain(words => words.EndsWith('.'));
        Enum.GetValues<WithheldReason>().Select(EstimateWords.Reason).Should().OnlyHaveUniqueItems();
    }

    [Fact]
    public void Steps_tell_every_number_that_the_estimate_rests_on()
    {
        TankPeriod period = Period(40, 0.05, 4, 9, 5) with { Recovery = new Recovery(0.8, 0.04) };
        RemovalEstimate.Made made = (RemovalEstimate.Made)SeasonEstimates.Of([period]).Single();

        string steps = string.Join('\n', EstimateWords.Steps(made, UnitSystem.Metric));

        steps.Should().Contain("Counted 18 in 3 L of tank water (A: 4 in 1 L, B: 9 in 1 L, C: 5 in 1 L).")
            .And.Contain("measured by 3 grabs in one set").And.Contain("of about 0.36")
            .And.Contain("8 % of the tank was looked at").And.Contain("80 % of organisms reach the count");
        made.Organisms.Value.Should().BeApproximately(18 / 3.0 * 40 / 0.8, 1e-9);
        EstimateWords.Basis(made).Should().Contain("measured patchiness");
    }

    [Theory]
    [InlineData("2026-06-15", "2026-06-28", "from 15 to 28 June")]
    [InlineData("2026-06-26", "2026-07-02", "from 26 June to 2 July")]
    [InlineData("2026-12-26", "2027-01-02", "from 26 December 2026 to 2 January 2027")]
    [InlineData("2026-06-15", "2026-06-15", "on 15 June")]
    public void Days_are_told_shortly(string from, string to, string expected) =>
        EstimateWords.Days(DateOnly.Parse(from, null), DateOnly.Parse(to, null)).Should().Be(expected);

    [Theory]
    [InlineData(0.012663, 3, "0.0127")]
    [InlineData(1652.47, 3, "1,650")]
    [InlineData(999.9, 3, "1,000")]
    [InlineData(720, 2, "720")]
    [InlineData(0, 3, "0")]
    [InlineData(23470.9, 2, "23,000")]
    public void Numbers_are_rounded_to_significant_digits(double value, int digits, string expected) =>
        NumberWords.Significant(value, digits).Should().Be(expected);

    [Fact]
    public void A_seasons_sentence_tells_how_much_was_sampled_and_which_months_are_missing()
    {
        TankPeriod[] periods = [.. SeasonTotalTests.Month(6, [4, 5, 6], [5, 4, 6], [6, 5, 4], []), .. SeasonTotalTests.Month(7, [[]])];
        SeasonTotal total = SeasonTotal.Of(Mussel, periods, SeasonEstimates.Of(periods));

        SeasonTotalWords.Sentence(total, UnitSystem.Metric).Should().StartWith("An estimated 2,000 (")
            .And.EndWith("were in the collected water (3 of 5 collections, 60 % of the water); not estimated for July. 500 L were collected in all.");
        total.Labels.Select(label => SeasonTotalWords.Label(label, total)).Should().StartWith("Not estimated for July: no sample.");
    }

    [Fact]
    public void The_public_is_told_only_what_the_samples_carry()
    {
        TankPeriod[] clear = [.. SeasonTotalTests.Month(6, [1], [2], [1], [2], [1], [1]), .. SeasonTotalTests.Month(7, [40], [41], [43], [39], [44], [41])];
        TankPeriod[] alike = [.. SeasonTotalTests.Month(6, [10], [41], [20], [35], [31], [44]), .. SeasonTotalTests.Month(7, [20], [41], [23], [59], [44], [51])];

        MonthRanking told = MonthRanking.Of(Mussel, MonthMeasure.Concentration, clear);
        MonthRanking kept = MonthRanking.Of(Mussel, MonthMeasure.Concentration, alike);

        MonthWords.ForThePublic(told).Should().Be("Most individuals of mussel in a litre of collected water were there in July.");
        MonthWords.ToTellMore(told).Should().BeNull();
        MonthWords.ForThePublic(kept).Should().BeNull();
        MonthWords.Sentence(kept).Should().Be("July has the highest figure; June or July may have had most individuals of mussel in a litre of collected water.");
        MonthWords.ToTellMore(kept).Should().StartWith("To tell July from June in four seasons of five, if it is 1.3 times as high, sample about ");
    }
}
