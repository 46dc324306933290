using System.Globalization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Service;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>What a person found out about a tool.</summary>
/// <param name="Name">The name of the tool's running total.</param>
/// <param name="At">When.</param>
/// <param name="WasFine">Nothing was wrong with it; else it was mended.</param>
public readonly record struct ToolFinding(string Name, DateTimeOffset At, bool WasFine);

/// <summary>The sun on a station's panel at one place.</summary>
/// <param name="Place">Where it stands.</param>
/// <param name="Key">The place and the panel in short: another one is judged anew.</param>
/// <param name="Sun">The sun on the panel.</param>
internal sealed record PanelPlace(StandingPlace Place, string Key, PanelSun Sun);

/// <summary>What folding measurements into facts needs to know of the station, prepared once.</summary>
public sealed class FactsContext
{
    private readonly IReadOnlyList<UtcInterval> _visits;
    private readonly Dictionary<DateOnly, double> _known = [];
    private readonly Dictionary<DateOnly, double> _factors = [];
    private readonly List<PanelPlace> _suns = [];
    private readonly Dictionary<DateOnly, (SunDay Sun, double ClearWattHours)> _sunDays = [];
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
        _visits = Intervals.Union(setup.Service.Visits);
        Findings =
        [
            .. setup.Service.Findings.Where(finding => finding.Rule is Rule.IdleTool or Rule.RunawayCounter or Rule.FallingUse)
                .OrderBy(finding => finding.At)
                .Select(finding => new ToolFinding(MeasurementName.Uses(finding.Part), finding.At, finding.WasFine)),
        ];
        UnusedFindings = [.. setup.Service.Findings.Where(finding => finding.Rule == Rule.StationUnused).Select(finding => finding.At).Order()];
        TankSensorFindings = [.. setup.Service.Findings.Where(finding => finding.Rule == Rule.TankSensor).Select(finding => finding.At)];
        ILookup<ToolKind, ToolSetup> kinds = setup.Tools.ToLookup(tool => tool.Kind);
        Fillers = (kinds[ToolKind.Vacuum].Any() ? kinds[ToolKind.Vacuum] : kinds[ToolKind.Other].Any() ? kinds[ToolKind.Other] : setup.Tools).Select(tool => MeasurementName.Uses(tool.Slug)).ToHashSet(StringComparer.Ordinal);
        PowerFindings =
        [
            .. setup.Service.Findings.Where(finding => finding.Rule is Rule.WeakPanel or Rule.ExtraLoad or Rule.AgedBattery).OrderBy(finding => finding.At),
        ];
        foreach (KnownEvent known in setup.Events)
        {
            for (DateOnly day = known.FirstDay; day <= known.LastDay; day = day.AddDays(1))
            {
                _known[day] = known.Factor * _known.GetValueOrDefault(day, 1);
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

    /// <summary>What people found out about panel, loads and battery, in order.</summary>
    internal IReadOnlyList<TicketFinding> PowerFindings { get; }

    /// <summary>When people looked why nobody used the station, in order.</summary>
    internal IReadOnlyList<DateTimeOffset> UnusedFindings { get; }

    /// <summary>When people saw to the tank's sensor.</summary>
    internal IReadOnlyList<DateTimeOffset> TankSensorFindings { get; }

    /// <summary>The names of the totals of tools whose water goes into the tank: the vacuums, or else those of no usual kind (a hand pump), or else all tools.</summary>
    internal IReadOnlySet<string> Fillers { get; }

    /// <summary>Whether nobody can use the station at noon of a local day.</summary>
    /// <param name="day">The local day.</param>
    internal bool IsQuietDay(DateOnly day) => !Quiet.IsEmpty && Quiet.IsQuiet(LocalCalendar.StartOf(day, Setup.Zone).AddHours(12));

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

    /// <summary>The sun on the panel where the station stands at an instant; null when it stands nowhere or has no battery set up.</summary>
    /// <param name="instant">Any instant.</param>
    internal PanelPlace? SunOver(DateTimeOffset instant)
    {
        if (Setup.Power is not { } power)
        {
            return null;
        }

        for (int i = _suns.Count - 1; i >= 0; i--)
        {
            if (_suns[i].Place.Contains(instant))
            {
                return _suns[i];
            }
        }

        if (Setup.Places.LastOrDefault(place => place.Contains(instant)) is not { } standing)
        {
            return null;
        }

        string key = string.Create(
            CultureInfo.InvariantCulture, $"{standing.Name} {power.PanelWatts} W {power.TiltDeg}° {power.AzimuthDeg}°");
        PanelPlace sun = new(standing, key, new PanelSun(power, standing.LatitudeDeg, standing.LongitudeDeg));
        _suns.Add(sun);
        return sun;
    }

    /// <summary>The sun's day where the station stands now, and what the panel as rated would give in it under a clear sky [Wh].</summary>
    /// <param name="place">The panel where it stands now.</param>
    /// <param name="date">The local date.</param>
    internal (SunDay Sun, double ClearWattHours) SunDayOf(PanelPlace place, DateOnly date)
    {
        if (!_sunDays.TryGetValue(date, out (SunDay Sun, double ClearWattHours) day))
        {
            SunDay sun = place.Sun.Day(date, Setup.Zone);
            day = (sun, sun is { Rise: { } rise, Set: { } set } ? place.Sun.ClearWattHours(rise, set) : 0);
            _sunDays.Add(date, day);
        }

        return day;
    }

    /// <summary>When the local day after that of an instant begins.</summary>
    /// <param name="instant">Any instant.</param>
    internal DateTimeOffset NextDay(DateTimeOffset instant)
    {
        DayOf(instant);
        return _dateEnd;
    }

    /// <summary>How many times the boats of a mean day of its weekday a day is expected to bring, by the season and by what is known of it.</summary>
    /// <param name="day">A local day.</param>
    internal double FactorOf(DateOnly day)
    {
        if (!_factors.TryGetValue(day, out double factor))
        {
            factor = _known.GetValueOrDefault(day, 1) * BoatingSeason.Factor(day, LatitudeOn(day));
            _factors.Add(day, factor);
        }

        return factor;
    }

    /// <summary>Whether the uses of an interval are those of service visits: at least half of it lies in some.</summary>
    /// <param name="from">Its beginning.</param>
    /// <param name="to">Its end.</param>
    internal bool IsServiceTime(DateTimeOffset from, DateTimeOffset to)
    {
        // The first visit that ends after the beginning: one of hundreds is asked for at each reading.
        (int low, int high) = (0, _visits.Count);
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = _visits[middle].End <= from ? (middle + 1, high) : (low, middle);
        }

        TimeSpan shared = TimeSpan.Zero;
        for (; low < _visits.Count && _visits[low].Start < to; low++)
        {
            shared += (_visits[low].End < to ? _visits[low].End : to) - Instants.Later(_visits[low].Start, from);
        }

        return shared > TimeSpan.Zero && 2 * shared >= to - from;
    }

    // Where it stands then, as far as that is known; else where it stood last.
    private double? LatitudeOn(DateOnly day)
    {
        DateTimeOffset noon = LocalCalendar.StartOf(day, Setup.Zone).AddHours(12);
        return (Setup.Places.LastOrDefault(place => place.Contains(noon)) ?? (Setup.Places.Count > 0 ? Setup.Places[^1] : null))?.LatitudeDeg;
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
