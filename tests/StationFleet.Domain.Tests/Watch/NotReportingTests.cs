using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class NotReportingTests
{
    [Fact]
    public void A_station_is_silent_after_its_hours_and_clears_at_its_first_report()
    {
        WatchedStation station = new();
        station.Report(("battery/charge", 0.9));
        DateTimeOffset heard = station.Now;

        station.Pass(TimeSpan.FromHours(3));
        station.Problems.Should().BeEmpty();
        station.Pass(TimeSpan.FromMinutes(5));
        station.Find(Rule.NotReporting)!.Evidence.Should().Be(new NotReportingEvidence(heard, 900));

        station.Pass(TimeSpan.FromMinutes(1)).Report();
        station.Problems.Should().BeEmpty("a report whose every record was set aside is a sign of life too");
        station.Steps.Should().BeEmpty("three hours of silence are no ticket");
    }

    [Fact]
    public void A_steady_station_is_a_ticket_after_half_a_day_of_silence_and_an_unknown_one_later()
    {
        WatchedStation unknown = new();
        unknown.Report(("battery/charge", 0.9)).Pass(TimeSpan.FromHours(40));
        unknown.Steps.Should().BeEmpty();
        unknown.Pass(TimeSpan.FromMinutes(5));
        unknown.Find(Rule.NotReporting)!.Urgency.Should().Be(Urgency.NeedsVisit);

        WatchedStation steady = new();
        steady.PassSaying(TimeSpan.FromDays(15), ("battery/charge", 0.9)).Pass(TimeSpan.FromHours(12));
        steady.Find(Rule.NotReporting)!.Urgency.Should().Be(Urgency.DueSoon);
        steady.Pass(TimeSpan.FromMinutes(5));
        steady.Find(Rule.NotReporting)!.Urgency.Should().Be(Urgency.NeedsVisit);
        steady.Report(("battery/charge", 0.9));
        steady.Steps[^1].Cleared.Should().Equal(new ClearedProblem(Rule.NotReporting, ""));
    }

    [Fact]
    public void A_station_in_a_dead_spot_may_be_silent_for_half_as_long_again_as_it_was_in_two_months()
    {
        WatchedStation station = new();
        station.PassSaying(TimeSpan.FromDays(15), ("battery/charge", 0.9)).Pass(TimeSpan.FromHours(32)).Report(("battery/charge", 0.9));

        station.PassSaying(TimeSpan.FromDays(3), ("battery/charge", 0.9)).Pass(TimeSpan.FromHours(48));
        station.Find(Rule.NotReporting)!.Urgency.Should().Be(Urgency.DueSoon);
        station.Pass(TimeSpan.FromMinutes(5));

        station.Find(Rule.NotReporting)!.Urgency.Should().Be(Urgency.NeedsVisit);
        station.Find(Rule.NotReporting)!.Evidence.Should().BeOfType<NotReportingEvidence>().Which.LongestSeconds.Should().Be(32 * 3600);
    }

    [Fact]
    public void A_station_that_reports_more_seldom_than_its_setup_says_is_judged_by_its_own_rhythm()
    {
        WatchedStation station = new();
        for (int i = 0; i < 10; i++)
        {
            station.Pass(TimeSpan.FromHours(2)).Report(("battery/charge", 0.9));
        }

        station.Pass(TimeSpan.FromHours(6));
        station.Problems.Should().BeEmpty();
        station.Pass(TimeSpan.FromMinutes(5));
        station.Find(Rule.NotReporting).Should().NotBeNull();
    }

    [Fact]
    public void A_station_that_reports_every_six_hours_may_miss_three_reports()
    {
        WatchedStation station = new(With(reportEvery: TimeSpan.FromHours(6)));
        station.Report(("battery/charge", 0.9));

        station.Pass(TimeSpan.FromHours(18));
        station.Problems.Should().BeEmpty();

        station.Pass(TimeSpan.FromMinutes(5));
        station.Find(Rule.NotReporting).Should().NotBeNull();
    }

    [Fact]
    public void A_station_that_promises_its_next_reading_within_a_day_may_miss_three_of_them_though_it_came_more_often()
    {
        WatchedStation station = new();
        for (int i = 0; i < 10; i++)
        {
            station.Pass(TimeSpan.FromHours(2)).Promise(TimeSpan.FromHours(24), ("battery/charge", 0.9));
        }

        station.Pass(TimeSpan.FromHours(72));
        station.Problems.Should().BeEmpty();
        station.Pass(TimeSpan.FromMinutes(5));
        station.Find(Rule.NotReporting)!.Evidence.Should().BeOfType<NotReportingEvidence>().Which.ReportEverySeconds.Should().Be(24 * 3600);

        station.Report(("battery/charge", 0.9)).Pass(TimeSpan.FromHours(6.5));
        station.Find(Rule.NotReporting).Should().NotBeNull("its newest report promises nothing, so that it is judged by its rhythm of two hours");
    }

    [Fact]
    public void A_station_that_never_reported_is_silent_from_its_beginning()
    {
        WatchedStation station = new();

        station.Pass(TimeSpan.FromHours(3.5));

        station.Find(Rule.NotReporting)!.Evidence.Should().Be(new NotReportingEvidence(null, 900));
    }

    [Fact]
    public void Old_measurements_that_arrive_late_are_a_report_of_today()
    {
        WatchedStation station = new();
        station.Pass(TimeSpan.FromHours(5));

        station.Report(Start + TimeSpan.FromHours(1), ("battery/charge", 0.9));

        station.Problems.Should().BeEmpty();
    }

    [Theory]
    [InlineData(QuietReason.Winterized)]
    [InlineData(QuietReason.InTransit)]
    [InlineData(QuietReason.AccessClosed)]
    public void Nothing_is_wrong_with_a_station_that_is_not_required(QuietReason reason)
    {
        DateTimeOffset end = Start + TimeSpan.FromDays(10);
        WatchedStation station = new(With(quiet: [Quiet(reason, Start + TimeSpan.FromHours(5), end)]));
        station.Pass(TimeSpan.FromHours(4));
        station.Find(Rule.NotReporting).Should().NotBeNull();

        station.Pass(TimeSpan.FromHours(2));
        station.Problems.Should().BeEmpty();
        station.Steps.Should().BeEmpty("a muted problem did not clear");

        station.Pass(end + TimeSpan.FromHours(3) - station.Now);
        station.Problems.Should().BeEmpty("its silence counts from the end of the quiet period");
        station.Pass(TimeSpan.FromMinutes(5));
        station.Find(Rule.NotReporting)!.Since.Should().Be(station.Now);
    }
}
