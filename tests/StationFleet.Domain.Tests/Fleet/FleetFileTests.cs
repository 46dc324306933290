using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Tests.Fleet;

public sealed class FleetFileTests
{
    private const string Small = """
        {
          "name": "District", "timeZone": "America/Boise", "agencies": [{ "name": "District" }],
          "accesses": [{ "slug": "ramp", "name": "Ramp", "water": "Lake", "host": "District", "latitude": 44.4, "longitude": -115.2 }],
          "stations": [{
            "code": "A-1", "owner": "District", "created": "2026-05-01T00:00:00-06:00",
            "tools": [{ "slug": "brush", "kind": "brush", "name": "Brush" }],
            "placements": [{ "access": "ramp", "from": "2026-05-01T00:00:00-06:00" }]
          }]
        }
        """;

    [Fact]
    public void Parse_reads_the_demo_fleet()
    {
        FleetFile fleet = DemoFleet.Load();

        fleet.Stations.Select(station => station.Code).Should().Equal("COP-1", "COP-2", "OTT-1", "SOR-1", "PORT-A", "PORT-B");
        fleet.Stations.Single(station => station.Code == "PORT-A").Placements.Should().HaveCount(6, "it was moved five times");
        fleet.People.Select(person => person.Role).Should().BeEquivalentTo("Biologist", "Technician", "Supervisor", "Administrator", "Steward");
    }

    [Fact]
    public void Parse_fills_in_what_a_small_file_leaves_out()
    {
        FleetStation station = Read(Small).Stations[0];

        station.ReportEveryMinutes.Should().Be(15);
        station.Rules.Should().BeNull();
        station.Tanks.Should().BeEmpty();
    }

    [Theory]
    [InlineData("\"kind\": \"brush\"", "\"kind\": \"broom\"", "stations[0].tools[0].kind")]
    [InlineData("\"timeZone\": \"America/Boise\"", "\"timeZone\": \"Idaho\"", "The time zone 'Idaho' is not known")]
    [InlineData("\"access\": \"ramp\"", "\"access\": \"dock\"", "Station A-1 stands at 'dock', which is no access of this file.")]
    [InlineData("\"owner\": \"District\"", "\"owner\": \"Nobody\"", "Station A-1 names the agency 'Nobody'")]
    [InlineData("\"code\": \"A-1\"", "\"code\": \"a 1\"", "The station code 'a 1'")]
    [InlineData("\"latitude\": 44.4", "\"latitude\": 144.4", "The access ramp lies outside the globe.")]
    [InlineData("\"water\": \"Lake\",", "\"water\": \"Lake\", \"depth\": 3,", "accesses[0]")]
    [InlineData("\"name\": \"District\", \"timeZone\"", "\"timeZone\"", "name")]
    [InlineData("\"stations\"", "\"stations\" x", "broken JSON")]
    public void Parse_says_in_one_sentence_what_is_wrong_and_where(string find, string replace, string expected)
    {
        Small.Should().Contain(find);
        FleetFileReading reading = FleetFile.Parse(Small.Replace(find, replace, StringComparison.Ordinal));

        string fault = reading.Should().BeOfType<FleetFileReading.Refused>().Which.Faults.Should().ContainSingle().Which;
        fault.Should().Contain(expected).And.EndWith(".").And.NotContain("StationFleet.Domain").And.NotContain("\n");
    }

    [Fact]
    public void Parse_refuses_a_station_in_two_places_at_once()
    {
        string twice = Small.Replace(
            "\"from\": \"2026-05-01T00:00:00-06:00\" }",
            "\"from\": \"2026-05-01T00:00:00-06:00\" }, { \"access\": \"ramp\", \"from\": \"2026-06-01T00:00:00-06:00\" }",
            StringComparison.Ordinal);

        FleetFile.Parse(twice).Should().BeOfType<FleetFileReading.Refused>()
            .Which.Faults.Should().ContainSingle().Which.Should().Be("Station A-1 stands at ramp and ramp at the same time.");
    }

    private static FleetFile Read(string json) => FleetFile.Parse(json).Should().BeOfType<FleetFileReading.Read>().Which.Fleet;
}
