using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>What folding measurements into facts needs to know of the station, prepared once.</summary>
public sealed class FactsContext
{
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
    }

    /// <summary>The station's setup.</summary>
    public StationSetup Setup { get; }

    /// <summary>Since when silence can be held against the station or a tool.</summary>
    public DateTimeOffset WatchedFrom { get; }

    /// <summary>When the station was not required to work.</summary>
    public QuietCalendar Quiet { get; }

    /// <summary>The measurement name and the installation of each tool.</summary>
    internal IReadOnlyList<(string Name, DateTimeOffset Installed)> Tools { get; }

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
}
