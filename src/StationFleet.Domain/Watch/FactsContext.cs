using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>What a person found out about a tool.</summary>
/// <param name="Name">The name of the tool's running total.</param>
/// <param name="At">When.</param>
/// <param name="WasFine">Nothing was wrong with it; else it was mended.</param>
public readonly record struct ToolFinding(string Name, DateTimeOffset At, bool WasFine);

/// <summary>What folding measurements into facts needs to know of the station, prepared once.</summary>
public sealed class FactsContext
{
    private readonly List<UtcInterval> _visits;
    private readonly Dictionary<DateOnly, double> _factors = [];
    private DateOnly _date;
    private DateTimeOffset _dateStart;
    private DateTimeOffset _dateEnd;

    /// <summary>Prepares a setup for folding.</summary>
    /// <param name="setup">The station's setup.</param>
    /// <param name="watchedFrom">When the watch over it began; null: when the station came into being.</param>
    public FactsContext(StationSetup setup, DateTimeOffset? watchedFrom = null)
    {
        ArgumentNullException.ThrowIfNull(setup);
        Setup = setup;
        WatchedFrom = watchedFrom > setup.Created ? watchedFrom.Value : setup.Created;
        Quiet = new QuietCalendar(setup.Quiet);
        Tools = [.. setup.Tools.Select(tool => (MeasurementName.Uses(tool.Slug), tool.Installed))];
        _visits = [.. setup.Service.Visits.OrderBy(visit => visit.Start)];
        Findings =
        [
            .. setup.Service.Findings.Where(finding => finding.Rule is Rule.IdleTool or Rule.RunawayCounter or Rule.FallingUse)
                .OrderBy(finding => finding.At)
                .Select(finding => new ToolFinding(MeasurementName.Uses(finding.Part), finding.At, finding.WasFine)),
        ];
        UnusedFindings = [.. setup.Service.Findings.Where(finding => finding.Rule == Rule.StationUnused).Select(finding => finding.At).Order()];
        TankSensorFindings = [.. setup.Service.Findings.Where(finding => finding.Rule == Rule.TankSensor).Select(finding => finding.At)];
        List<ToolSetup> vacuums = [.. setup.Tools.Where(tool => tool.Kind == ToolKind.Vacuum)];
        Fillers = (vacuums.Count > 0 ? vacuums : setup.Tools).Select(tool => MeasurementName.Uses(tool.Slug)).ToHashSet(StringComparer.Ordinal);
        foreach (KnownEvent known in setup.Events)
        {
            for (DateOnly day = known.FirstDay; day <= known.LastDay; day = day.AddDays(1))
            {
                _factors[day] = known.Factor * _factors.GetValueOrDefault(day, 1);
            }
        }
    }

    /// <summary>The station's setup.</summary>
    public StationSetup Setup { get; }

    /// <summary>Since when silence can be held against the station or a tool.</summary>
    public DateTimeOffset WatchedFrom { get; }

    /// <summary>When the station was not required to work.</summary>
    public QuietCalendar Quiet { get; }

    /// <summary>The measurement name and the installation of each tool.</summary>
    internal IReadOnlyList<(string Name, DateTimeOffset Installed)> Tools { get; }

    /// <summary>What people found out about tools, in order.</summary>
    internal IReadOnlyList<ToolFinding> Findings { get; }

    /// <summary>When people looked why nobody used the station, in order.</summary>
    internal IReadOnlyList<DateTimeOffset> UnusedFindings { get; }

    /// <summary>When people saw to the tank's sensor.</summary>
    internal IReadOnlyList<DateTimeOffset> TankSensorFindings { get; }

    /// <summary>The names of the totals of tools whose water goes into the tank: the vacuums, or all tools where there is none.</summary>
    internal IReadOnlySet<string> Fillers { get; }

    /// <summary>Whether nobody can use the station at noon of a local day.</summary>
    /// <param name="day">The local day.</param>
    internal bool IsQuietDay(DateOnly day) => Quiet.IsQuiet(LocalCalendar.StartOf(day, Setup.Zone).AddHours(12));

    /// <summary>The local date of an instant and when that date began; quick for instants of one day in a row.</summary>
    /// <param name="instant">Any instant.</param>
    internal (DateOnly Date, DateTimeOffset Start) DayOf(DateTimeOffset instant)
    {
        if (instant < _dateStart || _dateEnd <= instant)
        {
            _date = LocalCalendar.DateOf(instant, Setup.Zone);
            UtcInterval day = LocalCalendar.Day(_date, Setup.Zone);
            (_dateStart, _dateEnd) = (day.Start, day.End);
        }

        return (_date, _dateStart);
    }

    /// <summary>When the local day after that of an instant begins.</summary>
    /// <param name="instant">Any instant.</param>
    internal DateTimeOffset NextDay(DateTimeOffset instant)
    {
        DayOf(instant);
        return _dateEnd;
    }

    /// <summary>How many times its usual sessions a day is known to bring; 1 for a day without a known event.</summary>
    /// <param name="day">A local day.</param>
    internal double FactorOf(DateOnly day) => _factors.Count == 0 ? 1 : _factors.GetValueOrDefault(day, 1);

    /// <summary>Whether the uses of an interval are those of a service visit: at least half of it lies in one.</summary>
    /// <param name="from">Its beginning.</param>
    /// <param name="to">Its end.</param>
    internal bool IsServiceTime(DateTimeOffset from, DateTimeOffset to)
    {
        for (int i = _visits.Count - 1; i >= 0; i--)
        {
            UtcInterval visit = _visits[i];
            DateTimeOffset start = visit.Start > from ? visit.Start : from;
            DateTimeOffset end = visit.End < to ? visit.End : to;
            if (2 * (end - start) >= to - from)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>When a person last found out how a tool is, seen from an instant; null when nobody did.</summary>
    /// <param name="name">The name of the tool's running total.</param>
    /// <param name="at">Any instant.</param>
    internal DateTimeOffset? LastFinding(string name, DateTimeOffset at)
    {
        for (int i = Findings.Count - 1; i >= 0; i--)
        {
            if (Findings[i].Name == name && Findings[i].At <= at)
            {
                return Findings[i].At;
            }
        }

        return null;
    }
}
