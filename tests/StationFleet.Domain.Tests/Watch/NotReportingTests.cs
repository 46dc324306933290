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
        station.Steps[^1].Cleared.Should().Equal(new ClearedProblem(Rule.NotReporting, ""));
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
        station.Steps.Should().OnlyContain(step => step.Cleared.Count == 0, "a muted problem did not clear");

        station.Pass(end + TimeSpan.FromHours(3) - station.Now);
        station.Problems.Should().BeEmpty("its silence counts from the end of the quiet period");
        station.Pass(TimeSpan.FromMinutes(5));
        station.Find(Rule.NotReporting)!.Since.Should().Be(station.Now);
    }
}
