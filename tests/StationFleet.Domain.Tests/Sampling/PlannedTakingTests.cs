using StationFleet.Domain.Sampling;

namespace StationFleet.Domain.Tests.Sampling;

public sealed class PlannedTakingTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    [Fact]
    public void Follow_ends_the_one_within_whose_days_the_grab_lies()
    {
        PlannedTaking[] plans = [Plan(1, 1, 5), Plan(2, 10, 15)];

        IReadOnlyList<PlannedTaking> followed = Follow(plans, grabs: [Noon(12)]);

        followed.Select(plan => plan.End).Should().Equal(null, TakingEnd.Taken);
        followed[1].EndedAt.Should().Be(Noon(12));
        followed[1].IsOpen(Noon(11)).Should().BeTrue("nobody knew of it then");
        followed[1].IsOpen(Noon(12)).Should().BeFalse();
    }

    [Fact]
    public void Follow_takes_the_grabs_of_one_day_for_one_taking_and_a_late_one_for_the_one_that_waits_longest()
    {
        PlannedTaking[] plans = [Plan(1, 1, 5), Plan(2, 2, 6)];

        Follow(plans, grabs: [Noon(8), Noon(8).AddHours(1)]).Select(plan => plan.End).Should().Equal(TakingEnd.Taken, null);
        Follow(plans, grabs: [Noon(8), Noon(9)]).Select(plan => plan.End).Should().Equal(TakingEnd.Taken, TakingEnd.Taken);
    }

    [Fact]
    public void Follow_counts_a_grab_by_the_day_at_the_access()
    {
        DateTimeOffset lateEvening = new(2026, 6, 6, 5, 30, 0, TimeSpan.Zero); // 5 June, 23:30 at the access

        Follow([Plan(1, 5, 5)], grabs: [lateEvening])[0].End.Should().Be(TakingEnd.Taken);
        Follow([Plan(1, 6, 8)], grabs: [lateEvening])[0].End.Should().BeNull("its first day has not begun");
    }

    [Fact]
    public void Follow_misses_one_when_the_tank_is_emptied_after_its_last_day()
    {
        Follow([Plan(1, 1, 5)], emptyings: [Noon(4)])[0].End.Should().BeNull("the next water can be sampled until the evening of the 5th");

        PlannedTaking missed = Follow([Plan(1, 1, 5)], grabs: [Noon(9)], emptyings: [Noon(4), Noon(7)])[0];
        (missed.End, missed.EndedAt).Should().Be((TakingEnd.Missed, Noon(7).AddHours(1)));

        Follow([Plan(1, 1, 5)], grabs: [Noon(7).AddMinutes(40)], emptyings: [Noon(7)])[0].End
            .Should().Be(TakingEnd.Taken, "a grab that is written down so soon after an emptying is of the water that went out");
    }

    [Fact]
    public void Follow_dismisses_only_what_was_open()
    {
        PlannedTaking dismissed = Plan(1, 1, 5) with { DismissedAt = Noon(3) };

        Follow([dismissed], grabs: [Noon(4)])[0].End.Should().Be(TakingEnd.Dismissed);
        Follow([dismissed], grabs: [Noon(2)])[0].End.Should().Be(TakingEnd.Taken);
    }

    private static IReadOnlyList<PlannedTaking> Follow(
        PlannedTaking[] plans, DateTimeOffset[]? grabs = null, DateTimeOffset[]? emptyings = null) =>
        PlannedTaking.Follow(plans, grabs ?? [], emptyings ?? [], Boise);

    private static PlannedTaking Plan(int number, int from, int due) =>
        new(number, new DateOnly(2026, 6, from), new DateOnly(2026, 6, due), 3, 10, new DateTimeOffset(2026, 5, 1, 0, 0, 0, TimeSpan.Zero));

    private static DateTimeOffset Noon(int day) => new(2026, 6, day, 18, 0, 0, TimeSpan.Zero);
}
