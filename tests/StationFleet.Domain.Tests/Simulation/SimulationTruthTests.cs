using System.Text.Json.Nodes;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quality;
using StationFleet.Domain.Simulation;

namespace StationFleet.Domain.Tests.Simulation;

public sealed class SimulationTruthTests
{
    private static readonly JsonNode Schema = JsonNode.Parse(File.ReadAllText(DemoFleet.Find("docs/truth-file.schema.json")))!;

    [Fact]
    public void The_truth_obeys_its_schema_and_reads_back()
    {
        // The second season of a list has faults.
        FleetFile fleet = QualityWorld.Of(QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Middling)[1], SimulatedWorldKind.Harder);
        FleetSimulator simulator = new(fleet);
        List<DayTruth> days = [];
        _ = simulator.Run(QualityWorld.First, QualityWorld.First.AddDays(9), days.Add).Count();

        string json = SimulationTruth.Of(fleet, simulator, new SimulationOptions(), QualityWorld.First, QualityWorld.First.AddDays(9), days).ToJson();

        SchemaCheck.Faults(Schema, JsonNode.Parse(json), "$").Should().BeEmpty();
        SimulationTruth read = SimulationTruth.Parse(json);
        read.Days.Should().BeEquivalentTo(days);
        read.Faults.Should().Equal(fleet.Simulation!.Faults);
        read.World.Should().Be(SimulatedWorldKind.Harder);
    }
}
