using StationFleet.Domain.Fleet;
using static StationFleet.Domain.Fleet.StationCondition;

namespace StationFleet.Domain.Tests.Fleet;

public sealed class FleetHeadlineTests
{
    [Fact]
    public void Each_condition_is_counted_by_its_own_word()
    {
        Of(NeedsVisit, Working, InTransit, NeedsVisit, DueSoon, Working).Should()
            .Be("Two stations need a visit. Two are working, one is due soon, one is in transit.");
    }

    [Fact]
    public void One_station_that_needs_a_visit_is_told_in_the_singular()
    {
        Of(NeedsVisit, NotReporting, AccessClosed, Winterized, Winterized).Should()
            .Be("One station needs a visit. One is not reporting, one stands at a closed access, two are winterized.");
    }

    [Fact]
    public void A_fleet_without_work_says_so()
    {
        Of(Working, Working, DueSoon).Should().Be("No station needs a visit. Two are working, one is due soon.");
        Of(Working, Working, Working).Should().Be("All three stations are working.");
        Of(Working).Should().Be("The station is working.");
        Of(NeedsVisit, NeedsVisit).Should().Be("Two stations need a visit.");
        Of().Should().Be("There are no stations yet.");
    }

    [Fact]
    public void Numbers_are_words_up_to_twelve()
    {
        FleetHeadline.Of([.. Enumerable.Repeat(NeedsVisit, 12), .. Enumerable.Repeat(Working, 13)]).Should()
            .Be("Twelve stations need a visit. 13 are working.");
    }

    private static string Of(params StationCondition[] conditions) => FleetHeadline.Of(conditions);
}
