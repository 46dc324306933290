using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>One forecast of a tank beside what came, and beside straight lines.</summary>
/// <param name="Likeliest">The time that it named as most likely.</param>
/// <param name="Middle">The time that it took to be as likely before as after.</param>
/// <param name="WidthDays">Days from its early to its late end; infinite when no late end was named.</param>
/// <param name="IsCovered">Whether the tank was full between the two.</param>
/// <param name="LineErrorDays">
/// How far off straight lines through the levels of the last 24 h, 72 h, 7 d and since the emptying were [d]: the levels are those that
/// the forecast had, with what was seen pumped out added.
/// </param>
/// <param name="KnowingLineErrorDays">The same of lines that know what truly came in.</param>
public sealed record TankForecastTry(
    NamedTime Likeliest, NamedTime Middle, double WidthDays, bool IsCovered, IReadOnlyList<double> LineErrorDays, IReadOnlyList<double> KnowingLineErrorDays);

/// <summary>A time that a forecast named.</summary>
/// <param name="LeadDays">How far ahead it lay [d].</param>
/// <param name="ErrorDays">How far off it was [d].</param>
public readonly record struct NamedTime(double LeadDays, double ErrorDays);

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

    private readonly List<Made> _made = [];
    private readonly List<(DateTimeOffset At, double Share)> _levels = [];

    /// <summary>Notes what is known at an instant, and the forecast that is made then.</summary>
    /// <param name="at">The instant; the same two of each day.</param>
    /// <param name="levelShare">The level that the watch believes, as a share of capacity; null before the first reading.</param>
    /// <param name="seen">The pump-outs that it saw.</param>
    /// <param name="forecast">The forecast.</param>
    public void Add(DateTimeOffset at, double? levelShare, IReadOnlyList<PumpOutSeen> seen, TankForecast? forecast)
    {
        if (levelShare is not { } level)
        {
            return;
        }

        _levels.Add((at, level));
        if (at < end - NotInTheEnd && forecast?.Window is { Likeliest: not null, Middle: not null } window)
        {
            _made.Add(new Made(at, window, forecast.Room * capacityLitres, [.. Lines.Select(length => SeenDaily(at, length, seen)), SeenSinceEmptied(at, level, seen)]));
        }
    }

    /// <summary>The forecasts from before a fault touched the tank, its sensor or the use of the station.</summary>
    public IReadOnlyList<TankForecastTry> Forecasts(IEnumerable<PlannedFault> faults)
    {
        DateTimeOffset until = faults.Where(Touches).Select(fault => fault.From).Append(end).Min();
        return [.. from made in _made where made.At < until && truth.LitresAt(made.At) < capacityLitres select Try(made)];
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

    // What the levels of an instant and of the same time some days before say [L/d].
    private double SeenDaily(DateTimeOffset at, TimeSpan length, IReadOnlyList<PumpOutSeen> seen)
    {
        (DateTimeOffset from, double share) = _levels.LastOrDefault(level => level.At <= at - length + TimeSpan.FromHours(2), _levels[0]);
        double pumped = seen.Where(pumpOut => pumpOut.At > from).Sum(pumpOut => pumpOut.Before.Share - pumpOut.After.Share);
        return (_levels[^1].Share - share + pumped) * capacityLitres / Days(at - from);
    }

    private double SeenSinceEmptied(DateTimeOffset at, double level, IReadOnlyList<PumpOutSeen> seen)
    {
        (DateTimeOffset from, double share) = seen.Count > 0 ? (seen[^1].After.Reading.At, seen[^1].After.Share) : _levels[0];
        return (level - share) * capacityLitres / Days(at - from);
    }

    private static double Days(TimeSpan length) => Math.Max(1.0 / 24, length.TotalDays);

    private TankForecastTry Try(Made made)
    {
        DateTimeOffset at = made.At;
        double actual = truth.FullAfter(at) is { } full ? (full - at).TotalDays : double.PositiveInfinity;
        double late = made.Window.Late is { } last ? (last - at).TotalDays : double.PositiveInfinity;
        double early = (made.Window.Early - at).TotalDays;
        IEnumerable<TimeSpan> lengths = Lines.Append(at - (truth.EmptiedBefore(at) > begin ? truth.EmptiedBefore(at) : begin));
        return new TankForecastTry(
            Named(made.Window.Likeliest!.Value),
            Named(made.Window.Middle!.Value),
            late - early,
            early <= actual && actual <= late,
            [.. made.LinesDaily.Select(Error)],
            [.. lengths.Select(length => Error((truth.InflowTo(at) - truth.InflowTo(at - length)) / Days(length)))]);

        NamedTime Named(DateTimeOffset time) => new((time - at).TotalDays, Math.Abs((time - at).TotalDays - actual));

        double Error(double daily) => daily > 0 ? Math.Abs((made.Room / daily) - actual) : double.PositiveInfinity;
    }

    private sealed record Made(DateTimeOffset At, ForecastWindow Window, double Room, IReadOnlyList<double> LinesDaily);
}
