using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>One forecast of a tank beside what came, and beside straight lines through what truly came in before.</summary>
/// <param name="LeadDays">Days from the forecast to its middle.</param>
/// <param name="WidthDays">Days from its early to its late end; infinite when no late end was named.</param>
/// <param name="IsCovered">Whether the tank was full between the two.</param>
/// <param name="ErrorDays">How far off the middle was [d].</param>
/// <param name="LineErrorDays">How far off straight lines through the last 24 h, 72 h, 7 d and since the emptying were [d].</param>
public sealed record TankForecastTry(double LeadDays, double WidthDays, bool IsCovered, double ErrorDays, IReadOnlyList<double> LineErrorDays);

/// <summary>Pump-outs of at least a tenth of the tank, as they were and as the sensor showed them.</summary>
/// <param name="True">How many there were.</param>
/// <param name="Found">…of them seen.</param>
/// <param name="False">Seen, but there was none.</param>
public sealed record PumpOutCheck(int True, int Found, int False);

/// <summary>Holds a season's forecasts and pump-outs against the truth.</summary>
internal sealed class TankTries(SeasonTruth truth, double capacityLitres, DateTimeOffset begin, DateTimeOffset end)
{
    private const string Filler = "vacuum";

    // What lies so near the end may come after it.
    private static readonly TimeSpan NotInTheEnd = TimeSpan.FromDays(30);
    private static readonly TimeSpan[] Lines = [TimeSpan.FromHours(24), TimeSpan.FromHours(72), TimeSpan.FromDays(7)];

    private readonly List<(DateTimeOffset At, ForecastWindow Window, double Room)> _made = [];

    /// <summary>Notes a forecast.</summary>
    public void Add(DateTimeOffset at, TankForecast? forecast)
    {
        if (at < end - NotInTheEnd && forecast?.Window is { Middle: not null } window)
        {
            _made.Add((at, window, forecast.Room * capacityLitres));
        }
    }

    /// <summary>The forecasts from before a fault touched the tank, its sensor or the use of the station.</summary>
    public IReadOnlyList<TankForecastTry> Forecasts(IEnumerable<PlannedFault> faults)
    {
        DateTimeOffset until = faults.Where(Touches).Select(fault => fault.From).Append(end).Min();
        return [.. from made in _made where made.At < until && truth.LitresAt(made.At) < capacityLitres select Try(made.At, made.Window, made.Room)];
    }

    /// <summary>The pump-outs from before a fault touched the sensor.</summary>
    public PumpOutCheck PumpOuts(IReadOnlyList<PumpOutSeen> seen, IEnumerable<PlannedFault> faults)
    {
        DateTimeOffset until = faults.Where(IsOfSensor).Select(fault => fault.From).Append(end).Min();
        List<SimulatedPumpOut> own = [.. truth.PumpOuts.Where(pumpOut => pumpOut.At < until)];
        List<SimulatedPumpOut> large = [.. own.Where(pumpOut => pumpOut.Litres >= 1.1 * TankFacts.LeastFall * capacityLitres)];
        List<PumpOutSeen> told = [.. seen.Where(one => one.After.Reading.At < until)];
        return new PumpOutCheck(
            large.Count, large.Count(pumpOut => told.Exists(one => Tells(one, pumpOut))), told.Count(one => !own.Exists(pumpOut => Tells(one, pumpOut))));
    }

    // An empty battery keeps boats from the vacuum as well.
    private static bool Touches(PlannedFault fault) => IsOfSensor(fault) || fault.Tool == Filler || fault.Kind is FaultKind.StationUnused
        or FaultKind.AccessClosed or FaultKind.SiteOutage or FaultKind.PanelDisconnected or FaultKind.ExtraLoad or FaultKind.BatteryAged
        or FaultKind.PanelSoiled or FaultKind.PanelShaded;

    private static bool IsOfSensor(PlannedFault fault) =>
        fault.Kind is FaultKind.TankFrozen or FaultKind.TankDrift or FaultKind.TankJumping or FaultKind.TankLeak or FaultKind.ClockJump or FaultKind.PortableMoved;

    private static bool Tells(PumpOutSeen seen, SimulatedPumpOut pumpOut) =>
        seen.Before.Reading.At - TimeSpan.FromHours(1) <= pumpOut.At && pumpOut.At <= seen.After.Reading.At;

    // The lines know what truly came in, and the room that the sensor said.
    private TankForecastTry Try(DateTimeOffset at, ForecastWindow window, double room)
    {
        double actual = truth.FullAfter(at) is { } full ? (full - at).TotalDays : double.PositiveInfinity;
        double middle = (window.Middle!.Value - at).TotalDays;
        double late = window.Late is { } last ? (last - at).TotalDays : double.PositiveInfinity;
        double early = (window.Early - at).TotalDays;
        IEnumerable<TimeSpan> lengths = Lines.Append(at - (truth.EmptiedBefore(at) > begin ? truth.EmptiedBefore(at) : begin));
        return new TankForecastTry(
            middle,
            late - early,
            early <= actual && actual <= late,
            Math.Abs(middle - actual),
            [
                .. from length in lengths
                   let daily = (truth.InflowTo(at) - truth.InflowTo(at - length)) / Math.Max(1.0 / 24, length.TotalDays)
                   select daily > 0 ? Math.Abs((room / daily) - actual) : double.PositiveInfinity,
            ]);
    }
}
