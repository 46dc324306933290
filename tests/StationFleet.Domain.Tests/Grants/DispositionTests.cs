using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Tests.Grants;

public sealed class DispositionTests
{
    private static readonly AwardTerms Since2024 = new()
    {
        Name = "Since October 2024", EquipmentFrom = Money.Of(10_000), NothingOwedUpTo = Money.Of(10_000), MostForHandling = Money.Of(1_000),
    };

    private static readonly AwardTerms Before = new()
    {
        Name = "Before October 2024", EquipmentFrom = Money.Of(5_000), NothingOwedUpTo = Money.Of(5_000), MostForHandling = Money.Of(500),
    };

    [Fact]
    [Source("2 CFR 200.313(e), figures before October 2024; the arithmetic is ours")]
    public void A_sale_for_12_000_with_a_federal_share_of_60_percent_owes_6_700_by_the_older_rule()
    {
        ShareOwed owed = Disposition.Owed(DispositionMethod.Sold, Money.Of(12_000), Money.Of(12_000), Percentage.Of(60), Before);

        owed.Share.Should().Be(Money.Of(7_200));
        owed.KeptForHandling.Should().Be(Money.Of(500));
        owed.Owed.Should().Be(Money.Of(6_700));
    }

    [Fact]
    [Source("2 CFR 200.313(e), figures since October 2024; the arithmetic is ours")]
    public void The_same_sale_owes_6_200_by_the_newer_rule()
    {
        ShareOwed owed = Disposition.Owed(DispositionMethod.Sold, Money.Of(12_000), Money.Of(12_000), Percentage.Of(60), Since2024);

        owed.KeptForHandling.Should().Be(Money.Of(1_000));
        owed.Owed.Should().Be(Money.Of(6_200));
    }

    [Fact]
    public void A_value_at_the_threshold_owes_nothing_and_one_cent_above_owes_the_share()
    {
        Disposition.Owed(DispositionMethod.Kept, Money.Of(10_000), Money.Of(10_000), Percentage.Of(60), Since2024).Owed.Should().Be(default(Money));
        Disposition.Owed(DispositionMethod.Kept, Money.Of(10_000.01m), Money.Of(10_000.01m), Percentage.Of(60), Since2024).Owed
            .Should().Be(Money.Of(6_000.01m), "what is kept for other work costs nothing to sell");
    }

    [Fact]
    public void A_tenth_of_the_proceeds_is_kept_where_that_is_less() =>
        Disposition.Owed(DispositionMethod.Sold, Money.Of(6_000), Money.Of(12_000), Percentage.Of(50), Since2024).Should()
            .BeEquivalentTo(new { Share = Money.Of(3_000), KeptForHandling = Money.Of(600), Owed = Money.Of(2_400) });

    [Fact]
    public void The_threshold_of_each_award_decides_what_is_equipment()
    {
        RegisterItem station = Item(Money.Of(7_500), new Shareholder("old", Percentage.Of(40), Before, IsFederal: true), new Shareholder("new", Percentage.Of(60), Since2024));

        station.IsEquipment.Should().BeTrue("one of its awards still has the older threshold");
        (station with { Funding = [station.Funding[1]] }).IsEquipment.Should().BeFalse();
        station.FederalShare.Should().Be(Percentage.Of(40));
        (station with { Cost = null }).IsEquipment.Should().BeNull();
    }

    [Fact]
    public void Each_award_is_owed_by_its_own_rules_and_the_records_are_kept_three_years_after()
    {
        RegisterItem sold = Item(Money.Of(20_000), new Shareholder("old", Percentage.Of(40), Before), new Shareholder("own money", Percentage.Of(60))) with
        {
            Disposition = new ItemDisposition(new DateOnly(2026, 6, 30), DispositionMethod.Sold, Money.Of(8_000), Money.Of(8_000), ""),
        };

        sold.Owed.Should().ContainSingle().Which.Owed.Owed.Should().Be(Money.Of(2_700), "3,200 less 500");
        sold.KeepRecordsUntil.Should().Be(new DateOnly(2029, 6, 30));
    }

    private static RegisterItem Item(Money cost, params Shareholder[] funding) => new()
    {
        Id = new EquipmentId(1), Tag = "JB-001", Description = "Cleaning station", Acquired = new DateOnly(2024, 4, 1), Cost = cost, Funding = funding,
    };
}
