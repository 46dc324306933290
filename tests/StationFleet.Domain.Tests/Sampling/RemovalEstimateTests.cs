using StationFleet.Domain.Sampling;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Tests.Statistics;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class RemovalEstimateTests
{
    private const string Vectors = "test vectors computed with mpmath 1.3 and scipy 1.10, in part in R 4.2.2 (independent libraries)";
    private static readonly Patchiness WellMixed = Patchiness.Known(double.PositiveInfinity);

    [Theory]
    [Source(Vectors)]
    [InlineData("T1", 100, 0, double.PositiveInfinity, 0, 0, 368.888, 0)]
    [InlineData("T2", 100, .10, double.PositiveInfinity, 0, 0, 373.136, 0)]
    [InlineData("T3", 100, 0, double.PositiveInfinity, 1000, 479.539, 1839.04, 10)]
    [InlineData("T4", 100, .15, double.PositiveInfinity, 1000, 455.089, 1980.87, 10)]
    [InlineData("T5", 120, .05, double.PositiveInfinity, 720, 423.099, 1150.78, 4, 9, 5)]
    [InlineData("T6", 120, .05, 2.0, 720, 307.587, 2226.05, 4, 9, 5)]
    public void Limits_with_a_known_patchiness_hold_the_digits(
        string name, double litres, double sd, double size, double value, double low, double high, params int[] counts)
    {
        RemovalEstimate.Made made = Estimate(litres, sd, Patchiness.Known(size), counts);

        made.Organisms.Value.Should().BeApproximately(value, 1e-9, name);
        Digits.Hold(made.Organisms.Low, low);
        Digits.Hold(made.Organisms.High, high);
    }

    [Theory]
    [Source(Vectors)]
    [InlineData("T7", 120, 9.1235725, 18.957124, 41.056756, 362.565, 1652.47, 4, 9, 5)]
    [InlineData("T8", 120, 6.3478988, 20.778042, 119.64187, 252.892, 4798.81, 0, 3, 15)]
    [InlineData("T11", 100, 0, 0.71944315, 4.7100977, 0, 157.405, 0, 0, 0)]
    public void Limits_with_patchiness_from_the_tanks_own_grabs_hold_the_digits(
        string name, double litres, double countLow, double median, double countHigh, double low, double high, params int[] counts)
    {
        RemovalEstimate.Made made = Estimate(litres, 0.05, Patchiness.From([Set(counts)]), counts);

        name.Should().StartWith("T");
        Digits.Hold(made.Steps.Counted.Low, countLow);
        Digits.Hold(made.Steps.Counted.Median, median);
        Digits.Hold(made.Steps.Counted.High, countHigh);
        Digits.Hold(made.Organisms.Low, low);
        Digits.Hold(made.Organisms.High, high);
    }

    [Fact]
    [Source(Vectors + ", T9: one grab, nothing known of patchiness")]
    public void Limits_of_one_grab_rest_on_assumed_patchiness()
    {
        TankPeriod period = Period(120, 0.05) with { Grabs = [Grab("A", 18, 3)] };
        RemovalEstimate.Made made = (RemovalEstimate.Made)SeasonEstimates.Of([period]).Single();

        Digits.Hold(made.Steps.Counted.Low, 6.6327481);
        Digits.Hold(made.Steps.Counted.Median, 19.829039);
        Digits.Hold(made.Steps.Counted.High, 175.02988);
        Digits.Hold(made.Organisms.Low, 264.151);
        Digits.Hold(made.Organisms.High, 7016.64);
        made.Labels.Should().Contain(EstimateLabel.PatchinessAssumed).And.NotContain(EstimateLabel.OneGrab);
        Digits.Hold(made.CountingOnly.Low, Bounds.Rate(18, 1).Low * 40);
    }

    [Fact]
    [Source(Vectors + ", T10: patchiness learnt over five tanks")]
    public void Patchiness_is_learnt_from_all_tanks_of_the_season()
    {
        int[][] tanks = [[4, 9, 5], [12, 20, 15], [0, 1, 2], [33, 41, 28], [7, 6, 9]];

        IReadOnlyList<RemovalEstimate> estimates = SeasonEstimates.Of(tanks.Select((counts, i) => Period(120, 0.05, counts) with { Id = $"P{i}" }));

        RemovalEstimate.Made made = (RemovalEstimate.Made)estimates[0];
        Digits.Hold(made.Steps.Patchiness.MeanCv, 0.1502209);
        Digits.Hold(made.Steps.Counted.Low, 10.296041);
        Digits.Hold(made.Steps.Counted.Median, 18.732127);
        Digits.Hold(made.Steps.Counted.High, 30.326531);
        Digits.Hold(made.Organisms.Low, 408.572);
        Digits.Hold(made.Organisms.High, 1225.09);
        made.Steps.Patchiness.Sets.Should().Be(5);
    }

    [Fact]
    [Source(Vectors + ", T12: a known size of 5, before the correction for the share examined")]
    public void Limits_of_many_counts_hold_the_digits()
    {
        CountLimits counted = CountLimits.Of(500, Patchiness.Known(5), 5);
        CountLimits spread = counted.Spread(0.05, 1);

        Digits.Hold(counted.Low, 346.00297);
        Digits.Hold(counted.Median, 507.41561);
        Digits.Hold(counted.High, 780.14847);
        Digits.Hold(spread.Low * 4, 1367.03);
        Digits.Hold(spread.High * 4, 3155.18);
    }

    [Theory]
    [Source(Vectors + ", posterior mean of the CV")]
    [InlineData(0.3566285, 4, 9, 5)]
    [InlineData(0.9962267, 0, 3, 15)]
    public void Patchiness_has_the_computed_mean(double mean, params int[] counts) => Digits.Hold(Patchiness.From([Set(counts)]).MeanCv, mean);

    [Fact]
    [Source("worked chain: 27 organisms in five 1-mL aliquots of 10 L concentrated to 50 mL, of 120 L; digits by mpmath")]
    public void The_chain_from_aliquots_to_the_tank_multiplies_as_worked()
    {
        Organism veliger = new("mussel", "veliger");
        int[] counts = [5, 6, 4, 7, 5];
        Grab grab = new("A", 10, 50, [.. counts.Select(count => new Aliquot(1, [new OrganismCount("mussel", count, "veliger")]))]);
        TankPeriod period = Period(120, 0) with { Grabs = [grab] };
        CountedGrabs counted = CountedGrabs.Of(period, veliger)!;

        RemovalEstimate.Made made = (RemovalEstimate.Made)RemovalEstimate.Of(period, veliger, counted, WellMixed);

        counted.ExaminedLitres.Should().BeApproximately(1, 1e-12);
        made.PerLitre.Value.Should().BeApproximately(27, 1e-9);
        made.Organisms.Value.Should().BeApproximately(3240, 1e-9);
        made.Organisms.Low.Should().BeApproximately(2135.18, 0.006);
        made.Organisms.High.Should().BeApproximately(4714.03, 0.006);
        made.Labels.Should().Contain(EstimateLabel.AliquotsAreNoReplicates);
    }

    [Fact]
    [Source("North Temperate Lakes LTER, EDI knb-lter-ntl.392.1: at most 7677.707006 veligers in a cubic metre, of 147 in a mL (the 82 mL are inferred)")]
    public void The_chain_gives_a_published_concentration()
    {
        Organism veliger = new("mussel", "veliger");
        TankPeriod period = Period(5000, 0) with { Grabs = [new Grab("tow", 1570, 82, [new Aliquot(1, [new OrganismCount("mussel", 147, "veliger")])])] };

        CountedGrabs counted = CountedGrabs.Of(period, veliger)!;

        (counted.Count / counted.ExaminedLitres * 1000).Should().BeApproximately(7677.707006, 1e-6);
    }

    [Fact]
    [Source("EURACHEM/CITAC QUAM, example A1: relative uncertainty of a product, 0.0009 (0.000832968906 unrounded)")]
    public void Independent_shares_add_in_squares()
    {
        // 100.28 mg with 0.05, purity with 0.000058, 100 mL with 0.0665: the two largest through the chain's own sum.
        double mass = 0.05 / 100.28;
        double volume = Math.Sqrt(Math.Pow(0.0664730521840743 / 100, 2) + Math.Pow(0.000058 / 0.9999, 2));
        TankPeriod period = Period(100, volume, 5) with { Recovery = new Recovery(1, mass) };

        RemovalEstimate.Made made = (RemovalEstimate.Made)SeasonEstimates.Of([period]).Single();

        Digits.Hold(made.Steps.LnSd, 0.000832968906);
    }

    [Fact]
    public void Unequal_grabs_that_are_equal_but_for_a_hair_tell_the_same()
    {
        // The integral against the closed form.
        int[][] sets = [[4, 9, 5], [0, 3, 15], [120, 80, 300], [0, 1], [0, 0, 1]];
        foreach (int[] counts in sets)
        {
            Patchiness equal = Patchiness.From([Set(counts)]);
            Patchiness nearly = Patchiness.From([new ReplicateSet(counts, [.. counts.Select((_, i) => 1 + (i * 1e-9))])]);

            nearly.MeanCv.Should().BeApproximately(equal.MeanCv, 1e-7, string.Join(',', counts));
            nearly.MeanSquareCv.Should().BeApproximately(equal.MeanSquareCv, 1e-7);
        }
    }

    [Fact]
    public void Grabs_that_differ_only_as_their_litres_do_are_not_patchy()
    {
        Patchiness blind = Patchiness.From([Set([10, 40, 100])]);
        Patchiness seeing = Patchiness.From([new ReplicateSet([10, 40, 100], [1, 4, 10])]);

        seeing.MeanCv.Should().BeLessThan(0.3).And.BeLessThan(blind.MeanCv / 2);
    }

    [Fact]
    public void A_contaminated_blank_withholds_the_estimate_and_its_scatter()
    {
        TankPeriod dirty = Period(120, 0.05, 0, 3, 15) with { Blanks = [new Blank("B", [new OrganismCount("mussel", 1)])] };
        TankPeriod clean = Period(120, 0.05, 4, 9, 5) with { Id = "P2" };

        IReadOnlyList<RemovalEstimate> estimates = SeasonEstimates.Of([dirty, clean]);

        estimates[0].Should().BeOfType<RemovalEstimate.Withheld>().Which.Reason.Should().Be(WithheldReason.BlankContaminated);
        ((RemovalEstimate.Made)estimates[1]).Steps.Patchiness.Sets.Should().Be(1);
    }

    [Fact]
    public void A_blank_with_another_organism_in_it_withholds_nothing()
    {
        TankPeriod period = Period(120, 0.05, 4) with { Blanks = [new Blank("B", [new OrganismCount("snail", 3), new OrganismCount("mussel", 0)])] };

        SeasonEstimates.Of([period]).Single().Should().BeOfType<RemovalEstimate.Made>();
    }

    [Fact]
    public void Without_a_volume_or_with_more_examined_than_collected_there_is_no_estimate()
    {
        TankPeriod unknown = Period(120, 0.05, 4) with { Water = null };
        TankPeriod wrong = Period(0.5, 0.05, 4);

        SeasonEstimates.Of([unknown]).Single().Should().BeOfType<RemovalEstimate.Withheld>().Which.Reason.Should().Be(WithheldReason.VolumeUnknown);
        SeasonEstimates.Of([wrong]).Single().Should().BeOfType<RemovalEstimate.Withheld>().Which.Reason.Should().Be(WithheldReason.MoreExaminedThanCollected);
    }

    [Fact]
    public void Other_meshes_and_other_years_are_not_pooled()
    {
        TankPeriod[] periods =
        [
            Period(120, 0.05, 0, 3, 15),
            Period(120, 0.05, 4, 9, 5) with { Id = "P2", MeshMicrometres = 153 },
            Period(120, 0.05, 4, 9, 5) with { Id = "P3", From = new DateOnly(2025, 7, 1), To = new DateOnly(2025, 7, 14) },
        ];

        SeasonEstimates.Of(periods).Cast<RemovalEstimate.Made>().Select(made => made.Steps.Patchiness.Sets).Should().Equal(1, 1, 1);
        ((RemovalEstimate.Made)SeasonEstimates.Of(periods)[1]).Labels.Should().Contain(EstimateLabel.CoarseMesh);
    }

    [Fact]
    public void What_was_not_looked_for_is_no_zero()
    {
        Grab both = new("A", 1, 1, [new Aliquot(1, [new OrganismCount("mussel", 2), new OrganismCount("snail", 0)])]);
        Grab one = new("B", 1, 1, [new Aliquot(1, [new OrganismCount("mussel", 3)])]);

        IReadOnlyList<RemovalEstimate> estimates = SeasonEstimates.Of([Period(120, 0.05) with { Grabs = [both, one] }]);

        estimates.Select(estimate => (estimate.Organism.Taxon, estimate.Grabs.Count, estimate.Grabs.ExaminedLitres))
            .Should().Equal(("mussel", 5, 2.0), ("snail", 0, 1.0));
    }

    [Fact]
    public void When_all_water_was_examined_only_the_volume_is_uncertain()
    {
        TankPeriod period = Period(3, 0, 4, 9, 5);

        RemovalEstimate.Made made = (RemovalEstimate.Made)SeasonEstimates.Of([period]).Single();

        made.Organisms.Low.Should().BeApproximately(18, 1e-9);
        made.Organisms.High.Should().BeApproximately(made.Steps.Counted.Median, 1e-9);
    }

    [Fact]
    public void Water_between_two_emptyings_is_the_rise_with_both_levels_uncertainty()
    {
        CollectedWater water = CollectedWater.Between(10, 130, 5)!;

        water.Should().Be(new CollectedWater(120, 5 * Math.Sqrt(2), 10));
        CollectedWater.Between(130, 120, 5).Should().BeNull();
    }

    [Fact]
    public void Contradictions_in_a_chain_are_told_a_sentence_each()
    {
        TankPeriod period = Period(120, 0.05) with
        {
            To = new DateOnly(2026, 6, 1),
            Grabs =
            [
                new Grab("A", 10, 50, [new Aliquot(60, [new OrganismCount("mussel", -1)])]),
                new Grab("A", 0, 50, [new Aliquot(1, [new OrganismCount("mussel", 1), new OrganismCount("mussel", 1)])]),
            ],
        };

        period.Faults().Should().Equal(
            "Period P ends before it begins.",
            "Two grabs of period P have the same name; aliquots of one grab belong into that grab.",
            "Of grab A 60 mL were looked through, but it was concentrated to 50 mL.",
            "Grab A has a count below 0.",
            "The volumes of grab A must be above 0.",
            "Grab A counts the same organism twice.");
    }

    internal static Organism Mussel { get; } = new("mussel");

    /// <summary>A period whose grabs were looked at whole, a litre each.</summary>
    internal static TankPeriod Period(double litres, double shareSd, params int[] counts) => new(
        "P", "COP-1", new DateOnly(2026, 6, 15), new DateOnly(2026, 6, 28), new CollectedWater(litres, shareSd * litres, 0),
        [.. counts.Select((count, i) => Grab($"{(char)('A' + i)}", count, 1))], []);

    internal static Grab Grab(string id, int count, double litres) => new(id, litres, 1, [new Aliquot(1, [new OrganismCount("mussel", count)])]);

    private static ReplicateSet Set(int[] counts) => new(counts, [.. counts.Select(_ => 1.0)]);

    private static RemovalEstimate.Made Estimate(double litres, double sd, Patchiness patchiness, int[] counts)
    {
        TankPeriod period = Period(litres, sd, counts);
        return (RemovalEstimate.Made)RemovalEstimate.Of(period, Mussel, CountedGrabs.Of(period, Mussel)!, patchiness);
    }
}
