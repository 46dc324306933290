using BenchmarkDotNet.Attributes;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quality;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Benchmarks;

/// <summary>One station-season of 200 days, reporting every 15 minutes: inventing it, and trying the rules on it.</summary>
[MemoryDiagnoser]
public class TrialBenchmarks
{
    private readonly FleetFile _fleet = QualityWorld.Of(QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Middling)[1], SimulatedWorldKind.Usual);
    private List<WatchReport> _reports = [];

    [GlobalSetup]
    public void Invent() => _reports = [.. Simulated()];

    [Benchmark]
    public int Simulate() => Simulated().Count();

    [Benchmark]
    public int Trial()
    {
        StationTrial trial = new(TrialSetup.Of(_fleet, QualityWorld.Code), _reports[0].Received, TimeSpan.FromMinutes(5));
        trial.Run(_reports, _reports[^1].Received);
        return trial.Tickets.Count;
    }

    private IEnumerable<WatchReport> Simulated() => new StationSimulator(_fleet, QualityWorld.Code).Run(QualityWorld.First, QualityWorld.Last)
        .Select(report => RecordedIntake.Of(report.Received, report.Measurements, _fleet.Stations[0].Created).Report);
}
