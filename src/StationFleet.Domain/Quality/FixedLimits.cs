using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Quality;

/// <summary>
/// What the plain rule «no use for so many hours» would do: the uses of each tool as the reports show them, late or not, in a season
/// in which nobody mends anything.
/// </summary>
public sealed class FixedLimits
{
    private readonly Dictionary<string, List<DateTimeOffset>> _uses = [];
    private readonly DateTimeOffset _begin;
    private readonly DateTimeOffset _end;
    private readonly PlannedFault? _dead;

    private FixedLimits(FleetFile fleet)
    {
        _begin = fleet.Stations[0].Created;
        _end = LocalCalendar.StartOf(QualityWorld.Last.AddDays(1), fleet.Zone);
        _dead = fleet.Simulation!.Faults.FirstOrDefault(fault => fault.Kind is FaultKind.ToolDead or FaultKind.ToolMissing);
        IsHealthy = fleet.Simulation.Faults.Count == 0;
    }

    /// <summary>Whether nothing goes wrong in the season.</summary>
    public bool IsHealthy { get; }

    /// <summary>The tool that fails in the season; null when none does.</summary>
    public string? DeadTool => _dead?.Tool;

    /// <summary>Gathers the uses of a season.</summary>
    /// <param name="season">The season.</param>
    /// <param name="world">How unruly it is.</param>
    public static FixedLimits Of(QualitySeason season, SimulatedWorldKind world)
    {
        FleetFile fleet = QualityWorld.Of(season, world);
        FixedLimits limits = new(fleet);
        Dictionary<string, List<Reading>> totals = QualityWorld.Tools.ToDictionary(tool => MeasurementName.Uses(tool.Slug), _ => new List<Reading>());
        foreach (SimulatedReport report in new StationSimulator(fleet, QualityWorld.Code).Run(QualityWorld.First, QualityWorld.Last))
        {
            foreach (Measurement measurement in report.Measurements)
            {
                if (totals.TryGetValue(measurement.Name, out List<Reading>? total))
                {
                    total.Add(new Reading(measurement.At, measurement.Value));
                }
            }
        }

        foreach ((string slug, _, _) in QualityWorld.Tools)
        {
            List<Reading> total = [.. totals[MeasurementName.Uses(slug)].OrderBy(reading => reading.At)];
            limits._uses[slug] = [limits._begin, .. total.Zip(total.Skip(1)).Where(pair => pair.Second.Value > pair.First.Value).Select(pair => pair.Second.At)];
        }

        return limits;
    }

    /// <summary>How often a limit would have been passed while the tool was well.</summary>
    /// <param name="tool">The tool's slug.</param>
    /// <param name="hours">The limit [h].</param>
    public int FalseAlarms(string tool, double hours)
    {
        DateTimeOffset until = _dead?.Tool == tool ? _dead.From : _end;
        List<DateTimeOffset> uses = _uses[tool];
        int count = 0;
        for (int i = 0; i < uses.Count && uses[i] < until; i++)
        {
            DateTimeOffset next = i + 1 < uses.Count && uses[i + 1] < until ? uses[i + 1] : until;
            count += (next - uses[i]).TotalHours > hours ? 1 : 0;
        }

        return count;
    }

    /// <summary>Hours from the tool's failing to the alarm of a limit: 0 when it was on already, by chance; infinite when the season ended before.</summary>
    /// <param name="hours">The limit [h].</param>
    public double DelayHours(double hours)
    {
        PlannedFault dead = _dead ?? throw new InvalidOperationException("No tool fails in this season.");
        DateTimeOffset last = _uses[dead.Tool!].Last(use => use <= dead.From);
        double delay = Math.Max(0, (last.AddHours(hours) - dead.From).TotalHours);
        return dead.From.AddHours(delay) <= _end ? delay : double.PositiveInfinity;
    }
}
