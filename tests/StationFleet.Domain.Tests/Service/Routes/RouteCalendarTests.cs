using System.Text;
using Ical.Net.CalendarComponents;
using StationFleet.Domain.Service.Routes;
using static StationFleet.Domain.Tests.Service.Routes.RouteScene;
using Calendar = Ical.Net.Calendar;

namespace StationFleet.Domain.Tests.Service.Routes;

[Source("RFC 5545, Internet Calendaring and Scheduling: sections 3.1, 3.3.11, 3.6.1; read by the library Ical.Net")]
public sealed class RouteCalendarTests
{
    private static RoutePlan Day => Plan(
        AtDamRoad() with { Reason = "Left; right, back\\front\nsecond line: “größer” than 61 use sessions, so they say 🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤🚤." },
        AtFerryCove());

    [Fact]
    public void Another_library_reads_the_events_as_they_were_meant()
    {
        RoutePlan plan = Day;

        Calendar calendar = Calendar.Load(Write(plan))!;

        calendar.Method.Should().Be("PUBLISH");
        calendar.Events.Should().HaveCount(2);
        foreach (RoutedStop routed in plan.Stops)
        {
            CalendarEvent read = calendar.Events.Single(one => one.Location == routed.Stop.Place.Name);
            read.Start!.AsUtc.Should().Be(routed.Begins.UtcDateTime);
            read.End!.AsUtc.Should().Be(routed.Leaves.UtcDateTime);
            read.Description.Should().Contain(routed.Stop.Needs[0].Reason);
            read.Summary.Should().Be($"{routed.Stop.Stations[0]} · {routed.Stop.Place.Name}");
            read.GeographicLocation!.Latitude.Should().BeApproximately(routed.Stop.Place.LatitudeDeg, 1e-6);
        }
    }

    [Fact]
    public void No_line_is_longer_than_75_octets_and_none_ends_without_CRLF()
    {
        string text = Write(Day);

        text.Should().EndWith("\r\n");
        text.Replace("\r\n", "", StringComparison.Ordinal).Should().NotContainAny("\r", "\n");
        text.Split("\r\n").Should().OnlyContain(line => Encoding.UTF8.GetByteCount(line) <= 75);
        text.Should().NotContain("\uFFFD");
    }

    [Fact]
    public void The_same_stop_of_the_same_day_keeps_its_identity()
    {
        string[] Identities(RoutePlan plan) => [.. Calendar.Load(Write(plan))!.Events.Select(one => one.Uid!).Order()];

        Identities(Day).Should().Equal(Identities(Plan(AtFerryCove(minutes: 90), AtDamRoad())));
        Identities(Day).Should().OnlyHaveUniqueItems();
    }

    private static string Write(RoutePlan plan) => new RouteCalendar(
        plan, new DateOnly(2026, 7, 8), "crew", "Juniper Basin Watershed District", "juniper-basin.example", Morning.AddHours(-1), IsInvented: true).Write();
}
