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
    public void An_idle_tool_is_told_with_its_last_use_and_the_uses_of_the_others()
    {
        IdleToolEvidence idle = new("Drain-plug wrench", Sunday, Sunday, 46);

        Say(idle).Should().Be("The drain-plug wrench has not been used since Sunday 14:10; the other tools were used 46 times.");
        ProblemSentences.Title(idle).Should().Be("Find out why the drain-plug wrench is not used");
    }

    [Fact]
    public void An_idle_tool_that_was_last_used_long_ago_is_told_with_the_date()
    {
        DateTimeOffset june = new(2026, 6, 28, 20, 10, 0, TimeSpan.Zero);

        Say(new IdleToolEvidence("UV lamp", june, june, 1234)).Should()
            .Be("The UV lamp has not been used since 28 June; the other tools were used 1,234 times.");
    }

    [Fact]
    public void A_tool_that_was_never_used_is_told_from_the_beginning_of_the_watch()
    {
        Say(new IdleToolEvidence("Brush", null, Sunday, 30)).Should()
            .Be("The brush has not been used since the watch over it began on Sunday 14:10; the other tools were used 30 times since then.");
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

    [Fact]
    public void A_tank_that_is_due_soon_is_told_with_its_rate_and_days()
    {
        TankFillingEvidence tank = new(35.0 / 55, Drum, 4.1 * Units.LitresPerUsGallon);

        ProblemSentences.Sentence(tank, Urgency.DueSoon, new Reader(UnitSystem.UsCustomary, Boise, Now)).Should()
            .Be("The tank holds 35 of 55 gal (64 %). At 4.1 gal a day, the mean of the last days, it is full in about 5 days.");
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
        Say(new NotReportingEvidence(null, 21_600)).Should().Be("No report has ever come; one is expected every 6 hours.");
    }

    private static string Say(Evidence evidence) =>
        ProblemSentences.Sentence(evidence, Urgency.NeedsVisit, new Reader(UnitSystem.UsCustomary, Boise, Now));
}
