using System.Text.Json.Nodes;
using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Tests.Fleet;

public sealed class FleetFileSchemaTests
{
    private static readonly JsonNode Schema = JsonNode.Parse(File.ReadAllText(DemoFleet.Find("docs/fleet-file.schema.json")))!;

    [Fact]
    public void The_demo_fleet_obeys_the_schema() =>
        SchemaCheck.Faults(Schema, JsonNode.Parse(File.ReadAllText(DemoFleet.Path)), "$").Should().BeEmpty();

    [Theory]
    [InlineData("\"kind\": \"vacuum\"", "\"kind\": \"hoover\"")]
    [InlineData("\"slug\": \"dam-road\", ", "")]
    [InlineData("\"capacityLitres\": 208.2 }", "\"capacityGallons\": 55 }")]
    public void What_the_parser_refuses_the_schema_refuses(string find, string replace)
    {
        string text = File.ReadAllText(DemoFleet.Path);
        text.Should().Contain(find);
        string broken = text.Replace(find, replace, StringComparison.Ordinal);

        FleetFile.Parse(broken).Should().BeOfType<FleetFileReading.Refused>();
        SchemaCheck.Faults(Schema, JsonNode.Parse(broken), "$").Should().NotBeEmpty();
    }
}
