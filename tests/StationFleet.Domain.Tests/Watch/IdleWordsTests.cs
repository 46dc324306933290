using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class IdleWordsTests
{
    [Fact]
    public void Silence_tells_what_passed_the_tool_over_and_how_odd_that_is()
    {
        IdleWords.Silence(null).Should().Be("not counted yet");
        IdleWords.Silence(Verdict(0, 1)).Should().Be("picked up by the last session");
        IdleWords.Silence(Verdict(1, 0.6)).Should().Be("1 session passed it over (nothing odd)");
        IdleWords.Silence(Verdict(22, 1 / 9137.0)).Should().Be("22 sessions passed it over (1 in 9,000)");
        IdleWords.Silence(Verdict(65, 1e-9)).Should().Be("65 sessions passed it over (less than 1 in 1,000,000)");
    }

    [Fact]
    public void Patience_tells_after_how_many_more_sessions_it_would_be_a_ticket()
    {
        IdleWords.Patience(null).Should().Be("–");
        IdleWords.Patience(Verdict(65, 1e-9)).Should().Be("now");
        IdleWords.Patience(Verdict(3, 0.2) with { MoreSessions = 23, DaysToAlarm = 2.1 }).Should().Be("after about 23 sessions more, 2 days");
        IdleWords.Patience(Verdict(3, 0.2) with { MoreSessions = 170, DaysToAlarm = 58 }).Should().Be("after more than a month: give it a limit of days");
    }

    private static IdleVerdict Verdict(int passedOver, double chance) => new(passedOver, chance, 1e-4, 0.4, 0, 0);
}
