using StationFleet.Domain.Quantities;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class ProblemSentencesTests
{
    private const double Drum = 55 * Units.LitresPerUsGallon;
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    // Wednesday 8 July 2026, 07:05 in Boise.
    private static readonly DateTimeOffset Now = new(2026, 7, 8, 13, 5, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset Sunday = new(2026, 7, 5, 20, 10, 0, TimeSpan.Zero);

    [Fact]
    public void An_idle_tool_is_told_with_the_sessions_that_passed_it_over_and_how_odd_that_is()
    {
        IdleToolEvidence idle = new("Drain-plug wrench", Sunday, Sunday, 31, 9000, null);

        Say(idle).Should().Be("The drain-plug wrench has been passed over by 31 use sessions since Sunday 14:10. That almost never happens here (1 in 9,000).");
        ProblemSentences.Title(idle).Should().Be("Find out why the drain-plug wrench is not used");
    }

    [Fact]
    public void An_idle_tool_that_was_last_used_long_ago_is_told_with_the_date()
    {
        DateTimeOffset june = new(2026, 6, 28, 20, 10, 0, TimeSpan.Zero);

        Say(new IdleToolEvidence("UV lamp", june, june, 1234, 600, null)).Should()
            .Be("The UV lamp has been passed over by 1,234 use sessions since 28 June. That seldom happens here (1 in 600).");
    }

    [Fact]
    public void A_tool_that_was_never_used_is_told_from_when_counting_began()
    {
        Say(new IdleToolEvidence("Brush", null, Sunday, 1, 1_000_000, null)).Should()
            .Be("The brush has been passed over by one use session since Sunday 14:10, when counting began. That never happens here (less than 1 in 1,000,000).");
    }

    [Fact]
    public void A_tool_past_its_plain_limit_is_told_with_that_limit()
    {
        Say(new IdleToolEvidence("Hand pump", Sunday, Sunday, 0, null, 3)).Should()
            .Be("The hand pump has not been used since Sunday 14:10; its limit is 3 days.");
    }

    [Fact]
    public void The_other_rules_of_use_are_told_with_their_numbers()
    {
        Say(new StationUnusedEvidence(Sunday, 9)).Should().Be(
            "No use since Sunday 14:10; about 9 use sessions were expected, and reports come in. Breaker? Gate? Access closed?");
        Say(new FallingUseEvidence("Hull brush", 0.45, 6)).Should().Be(
            "Clearly fewer than the usual 45 % of use sessions have picked up the hull brush for 6 days. It may work only half, or habits have changed.");
        Say(new RunawayCounterEvidence("Air blower", 40, Sunday, Sunday.AddMinutes(30))).Should().Be(
            "The air blower counted 40 uses within 30 minutes up to Sunday 14:40, without any other tool. A stuck switch or a loose wire counts like that.");
        Say(new ClockWrongEvidence(-7200, Sunday)).Should().Be("Its clock is 2 hours slow: what it reports is put too early.");
        Say(new MovedEvidence("Marina ramp", 2224, 44.42, -115.2, Sunday, Sunday)).Should().Be(
            "It stands 1.4 miles from Marina ramp since Sunday 14:10, last seen Sunday 14:10 at 44.42000° N, 115.20000° W.");
    }

    [Fact]
    public void A_tank_that_needs_a_visit_is_told_with_its_weight()
    {
        Say(new TankFillingEvidence(46.0 / 55, Drum, null)).Should()
            .Be("The tank holds 46 of 55 gal (84 %). Its water weighs about 384 lb: pump it out, do not lift.");
    }

    [Fact]
    public void A_tank_is_told_in_litres_and_kilograms_where_people_use_them()
    {
        ProblemSentences.Sentence(new TankFillingEvidence(0.84, 200, null), Urgency.NeedsVisit, new Reader(UnitSystem.Metric, Boise, Now)).Should()
            .Be("The tank holds 168 of 200 L (84 %). Its water weighs about 168 kg: pump it out, do not lift.");
    }

    [Theory]
    [InlineData(18.0, 50.0, 66.0, "It will be full between Thursday and Saturday (80 %), most likely Friday morning.")]
    [InlineData(18.0, 32.0, 38.0, "It will be full on Thursday (80 %), most likely Thursday afternoon.")]
    [InlineData(18.0, 60.0, null, "It will be full after Thursday (90 %), most likely Friday evening.")]
    [InlineData(240.0, 270.0, 300.0, "It will be full in more than 10 days, most likely; one time in ten before 18 July.")]
    [InlineData(250.0, null, null, "It will be full in more than 10 days.")]
    public void A_tank_that_is_due_soon_is_told_with_its_window(double early, double? likeliest, double? late, string window)
    {
        DateTimeOffset? At(double? hours) => hours is { } known ? Now.AddHours(known) : null;
        TankFillingEvidence tank = new(35.0 / 55, Drum, 4.1 * Units.LitresPerUsGallon, new ForecastWindow(Now.AddHours(early), At(likeliest), At(likeliest), At(late)));

        ProblemSentences.Sentence(tank, Urgency.DueSoon, new Reader(UnitSystem.UsCustomary, Boise, Now)).Should()
            .Be($"The tank holds 35 of 55 gal (64 %). {window}");
    }

    [Fact]
    public void Without_a_date_a_tank_is_told_with_what_comes_in()
    {
        TankFillingEvidence tank = new(35.0 / 55, Drum, 4.1 * Units.LitresPerUsGallon);

        ProblemSentences.Sentence(tank, Urgency.DueSoon, new Reader(UnitSystem.UsCustomary, Boise, Now)).Should()
            .Be("The tank holds 35 of 55 gal (64 %). Some 4.1 gal come in a day, by the few days that are known.");
    }

    [Fact]
    public void A_low_battery_is_told_with_its_limit()
    {
        Say(new LowChargeEvidence(0.43, 0.5)).Should().Be("The battery is at 43 %, under its limit of 50 %.");
    }

    [Fact]
    public void A_silent_station_is_told_with_its_last_report()
    {
        Say(new NotReportingEvidence(Sunday, 900)).Should().Be("The last report came Sunday 14:10; one is expected every 15 minutes.");
        Say(new NotReportingEvidence(Sunday, 900, 7 * 3600, "COP-2 and OTT-1")).Should().Be(
            "The last report came Sunday 14:10; one is expected every 15 minutes, and its longest silence of the last two months was 7 hours. "
            + "COP-2 and OTT-1 fell silent at the same time: look at what they share first, the radio link or the power at the site.");
        Say(new NotReportingEvidence(null, 21_600)).Should().Be("No report has ever come; one is expected every 6 hours.");
    }

    private static string Say(Evidence evidence) =>
        ProblemSentences.Sentence(evidence, Urgency.NeedsVisit, new Reader(UnitSystem.UsCustomary, Boise, Now));
}
