using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;

namespace StationFleet.Domain.Tests.Tanks;

public sealed class TankShapeTests
{
    private static readonly VerticalCylinder Drum = new(In(22.5), In(33.5));
    private static readonly HorizontalCylinder DrumLying = new(In(22.5), In(33.5));

    private static readonly StrappingTable Poured = new(
    [
        .. new[] { (0.0, 0.0), (5, 8.2), (10, 16.9), (15, 25.6), (20, 34.2), (25, 42.8), (30, 51.4), (33.5, 57.0) }
            .Select(row => new StrappingRow(In(row.Item1), Gal(row.Item2))),
    ]);

    public static TheoryData<TankShape> AllShapes => new(
        Drum, DrumLying, Poured, new BoxTank(1.2, 0.6, 0.5), new EvenTank(0.81, 208.2));

    [Theory]
    [InlineData(1, 1.721)]
    [InlineData(5, 8.606)]
    [InlineData(10, 17.212)]
    [InlineData(15, 25.819)]
    [InlineData(20, 34.425)]
    [InlineData(25, 43.031)]
    [InlineData(30, 51.637)]
    [Source("V = π D² h / 4 worked by hand for a 22.5 in × 33.5 in drum (inside dimensions of a vendor's drum table); 1 US gal = 231 in³")]
    public void A_standing_drum_holds_the_worked_gallons(double inches, double gallons) =>
        ToGal(Drum.LitresAt(In(inches))).Should().BeApproximately(gallons, 0.0005);

    [Fact]
    [Source("The same drum: brim 13,319.862 in³ = 57.6617 gal = 218.273 L; 55 gal stands at 31.9536 in")]
    public void A_55_gallon_drum_holds_more_than_55_gallons_to_the_brim()
    {
        Drum.BrimLitres.Should().BeApproximately(218.273, 0.0005);
        ToGal(Drum.BrimLitres).Should().BeApproximately(57.6617, 0.00005);
        (Drum.LevelAt(Gal(55)) / 0.0254).Should().BeApproximately(31.9536, 0.00005);
        Drum.LitresAt(In(40)).Should().Be(Drum.BrimLitres, "what lies above the brim counts as the brim");
        Drum.LitresAt(-0.1).Should().Be(0);
    }

    [Theory]
    [InlineData(0.01, 0.001693)]
    [InlineData(0.05, 0.018693)]
    [InlineData(0.10, 0.052044)]
    [InlineData(0.15, 0.094060)]
    [InlineData(0.20, 0.142378)]
    [InlineData(0.25, 0.195501)]
    [InlineData(0.30, 0.252316)]
    [InlineData(0.35, 0.311919)]
    [InlineData(0.40, 0.373530)]
    [InlineData(0.45, 0.436444)]
    [InlineData(0.50, 0.5)]
    [InlineData(0.75, 0.804499)]
    [InlineData(0.90, 0.947956)]
    [InlineData(0.95, 0.981307)]
    [Source("Partial-volume coefficients of a lying cylinder (standard engineering table: 0.0520, 0.1424, 0.1955, 0.2523, 0.3735), to six places by the segment formula")]
    public void A_lying_cylinder_holds_the_tabled_share_at_each_depth(double depth, double share)
    {
        HorizontalCylinder tank = new(2, 5);

        (tank.LitresAt(2 * depth) / tank.BrimLitres).Should().BeApproximately(share, 5e-7);
    }

    [Fact]
    [Source("processconvert.com, worked case of a horizontal tank: D 2 m, L 5 m, h 1 m → 7.854 of 15.708 m³")]
    public void A_lying_cylinder_matches_the_worked_case()
    {
        HorizontalCylinder tank = new(2, 5);

        tank.LitresAt(1).Should().BeApproximately(7854, 0.5);
        tank.BrimLitres.Should().BeApproximately(15708, 0.5);
    }

    [Theory]
    [InlineData(2, 2.524)]
    [InlineData(5, 9.541)]
    [InlineData(8, 18.376)]
    [InlineData(11.25, 28.831)]
    [InlineData(15, 40.837)]
    [InlineData(20, 54.160)]
    [InlineData(22.5, 57.662)]
    [Source("Segment formula worked independently for the same drum lying down, 22.5 in × 33.5 in")]
    public void A_drum_lying_down_holds_the_worked_gallons(double inches, double gallons) =>
        ToGal(DrumLying.LitresAt(In(inches))).Should().BeApproximately(gallons, 0.0006);

    [Theory]
    [InlineData(16, 228.7)]
    [InlineData(40, 616.5)]
    [Source("tankvolumecalc.com: horizontal tank D 40 in, shell 100 in, 2:1 ellipsoidal heads: 616.5 gal full, 228.7 gal at 16 in")]
    public void Dished_ends_hold_more_than_the_flat_ends_that_are_reckoned_with(double inches, double withDishedEnds)
    {
        HorizontalCylinder flat = new(In(40), In(100));

        ToGal(flat.LitresAt(In(inches))).Should().BeLessThan(withDishedEnds).And.BeGreaterThan(0.85 * withDishedEnds);
    }

    [Fact]
    [Source("V = A h: 1.2 m × 0.6 m × 0.5 m = 0.36 m³, by hand")]
    public void A_box_holds_its_area_times_the_height()
    {
        BoxTank box = new(1.2, 0.6, 0.5);

        box.BrimLitres.Should().BeApproximately(360, 1e-9);
        box.LitresAt(0.125).Should().BeApproximately(90, 1e-9);
        box.LevelAt(90).Should().BeApproximately(0.125, 1e-9);
    }

    [Fact]
    public void An_even_tank_goes_on_above_the_height_that_is_known()
    {
        EvenTank tank = new(0.81, 208.2);

        tank.LitresAt(0.405).Should().BeApproximately(104.1, 1e-9);
        tank.LitresAt(0.891).Should().BeApproximately(229.02, 1e-9, "its brim is not known");
    }

    [Theory]
    [InlineData(2.5, 4.038425)]
    [InlineData(7, 11.642935)]
    [InlineData(12.5, 21.256286)]
    [InlineData(31, 53.037796)]
    [Source("SciPy PchipInterpolator on the same eight rows")]
    public void A_strapping_table_goes_between_its_rows_as_PCHIP_does(double inches, double gallons) =>
        ToGal(Poured.LitresAt(In(inches))).Should().BeApproximately(gallons, 2e-6);

    [Fact]
    public void A_strapping_table_never_falls_as_the_liquid_rises()
    {
        Random random = new(20261125);
        for (int table = 0; table < 300; table++)
        {
            (double height, double litres) = (0, 0);
            StrappingTable tank = new(
            [
                .. Enumerable.Range(0, 3 + random.Next(8)).Select(_ =>
                {
                    height += 0.001 + (random.NextDouble() * (random.Next(4) == 0 ? 1 : 0.1));
                    litres += random.Next(3) == 0 ? 0 : 20 * random.NextDouble();
                    return new StrappingRow(height, litres);
                }),
            ]);
            double[] volumes = [.. Enumerable.Range(0, 300).Select(i => tank.LitresAt(tank.HeightM * i / 299))];

            volumes.Zip(volumes.Skip(1)).Should().OnlyContain(pair => pair.Second >= pair.First - 1e-9);
        }
    }

    [Fact]
    public void Outside_its_rows_a_strapping_table_counts_the_nearest()
    {
        StrappingTable tank = new([new StrappingRow(0.1, 10), new StrappingRow(0.2, 25), new StrappingRow(0.3, 45)]);

        tank.LitresAt(0.5).Should().Be(45);
        tank.LitresAt(0.05).Should().BeApproximately(5, 1e-12, "under the first row in proportion");
    }

    [Theory]
    [MemberData(nameof(AllShapes))]
    public void Level_and_litres_lead_back_to_each_other(TankShape shape)
    {
        Random random = new(20261125);
        for (int i = 0; i < 200; i++)
        {
            double levelM = shape.HeightM * random.NextDouble();

            shape.LevelAt(shape.LitresAt(levelM)).Should().BeApproximately(levelM, 1e-6);
        }

        shape.LevelAt(0).Should().Be(0);
    }

    [Fact]
    public void Dimensions_that_cannot_be_are_told_in_a_sentence()
    {
        new VerticalCylinder(0, 0.8).Fault().Should().Be("A standing cylinder needs a diameter and a height.");
        new HorizontalCylinder(0.5, double.NaN).Fault().Should().NotBeNull();
        new BoxTank(1, -1, 1).Fault().Should().NotBeNull();
        new StrappingTable([new StrappingRow(0, 0), new StrappingRow(0.1, 5)]).Fault().Should().Be("A strapping table needs 3 to 500 rows.");
        new StrappingTable([new StrappingRow(0, 0), new StrappingRow(0.1, 5), new StrappingRow(0.1, 6)]).Fault()
            .Should().Be("Row 3 of the strapping table is not higher than the one before, or holds less.");
        Poured.Fault().Should().BeNull();
    }

    private static double In(double inches) => inches * Units.MetresPerInch;

    private static double Gal(double gallons) => gallons * Units.LitresPerUsGallon;

    private static double ToGal(double litres) => litres / Units.LitresPerUsGallon;
}
