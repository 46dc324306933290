using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>
/// Carries the roll-ups on when readings follow those known, as they do nearly always: from what it remembers of each series' end, so
/// that a report costs two rows for each series. Anything else is for <see cref="RollUpUpdater"/> to make anew.
/// </summary>
internal sealed class RollUpAppender(SeriesCatalog catalog, RawRows raw, RollUpRows rollUps)
{
    private readonly Dictionary<long, SeriesEnd> _ends = [];
    private readonly HashSet<SeriesEnd> _ahead = [];
    private readonly Dictionary<StationId, Whereabouts> _whereabouts = [];

    /// <summary>Forgets everything: something may have been changed by others or rolled back.</summary>
    internal void Forget()
    {
        _ahead.Clear();
        _ends.Clear();
        _whereabouts.Clear();
    }

    /// <summary>Appends new readings of a station, which are in the database already; <see cref="Flush"/> writes what they change.</summary>
    /// <returns>Whether it did; false when they do not all follow what was known: then nothing was appended.</returns>
    internal bool TryAppend(StationId station, IReadOnlyCollection<(Series Series, List<Reading> Readings)> added)
    {
        if (!added.All(Follows) || UptimeFor(station, added) is not { } uptime)
        {
            ForgetSeries(station);
            return false;
        }

        if (!_whereabouts.TryGetValue(station, out Whereabouts? whereabouts))
        {
            _whereabouts.Add(station, whereabouts = raw.Whereabouts(station));
        }

        foreach ((Series series, List<Reading> readings) in added)
        {
            SeriesEnd end = _ends[series.Id];
            foreach (Reading reading in readings)
            {
                end.Append(reading, whereabouts, uptime, rollUps);
            }

            _ahead.Add(end);
        }

        return true;
    }

    /// <summary>Writes the ends that are not written yet.</summary>
    internal void Flush()
    {
        foreach (SeriesEnd end in _ahead)
        {
            end.Write(rollUps);
        }

        _ahead.Clear();
    }

    private void ForgetSeries(StationId station)
    {
        foreach (Series series in catalog.Of(station).Values)
        {
            if (_ends.Remove(series.Id, out SeriesEnd? end))
            {
                end.Write(rollUps);
            }
        }
    }

    private bool Follows((Series Series, List<Reading> Readings) added)
    {
        (Series series, List<Reading> readings) = added;
        long first = readings[0].At.ToUnixTimeMilliseconds();
        if (_ends.TryGetValue(series.Id, out SeriesEnd? end))
        {
            return end.Last is null || end.Last.Value.At < readings[0].At;
        }

        // Nothing is remembered: every reading from the first new one on must be new.
        if (raw.Range(series, first - 1, long.MaxValue).Count != readings.Count)
        {
            return false;
        }

        _ends.Add(series.Id, new SeriesEnd(series, raw.LastTo(series, first - 1)));
        return true;
    }

    /// <summary>
    /// The uptimes that judge the new readings of the station's counters; null when an older uptime would judge them too, or a new one
    /// judges readings that were there before.
    /// </summary>
    private UptimeLog? UptimeFor(StationId station, IReadOnlyCollection<(Series Series, List<Reading> Readings)> added)
    {
        IReadOnlyDictionary<string, Series> all = catalog.Of(station);
        if (!all.TryGetValue(MeasurementName.ControllerUptime, out Series? uptime))
        {
            return UptimeLog.Empty;
        }

        List<Reading>? told = added.FirstOrDefault(row => row.Series.Id == uptime.Id).Readings;
        DateTimeOffset toldBefore = EndOf(uptime).Last?.At ?? DateTimeOffset.MinValue;
        bool judgesTheNew = added.Any(row => row.Series.Nature.Kind == SeriesKind.Counter && row.Readings[0].At <= toldBefore);
        bool isJudgedAnew = told is not null && all.Values.Any(series =>
            series.Nature.Kind == SeriesKind.Counter && EndOf(series).Last is { } last && last.At > toldBefore);
        return judgesTheNew || isJudgedAnew ? null : told is null ? UptimeLog.Empty : new UptimeLog(told);
    }

    private SeriesEnd EndOf(Series series)
    {
        if (!_ends.TryGetValue(series.Id, out SeriesEnd? end))
        {
            _ends.Add(series.Id, end = new SeriesEnd(series, raw.LastTo(series, long.MaxValue)));
        }

        return end;
    }
}
