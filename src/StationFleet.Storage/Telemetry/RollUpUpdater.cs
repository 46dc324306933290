using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>Keeps the roll-ups equal to what the raw rows say; the caller holds the transaction.</summary>
internal sealed class RollUpUpdater(SeriesCatalog catalog, RawRows raw, SealedTime sealedTime, RollUpRows rollUps)
{
    private readonly RollUpAppender _appender = new(catalog, raw, rollUps);

    /// <summary>Forgets what it remembers of the roll-ups: something may have been changed by others or rolled back.</summary>
    internal void Forget() => _appender.Forget();

    /// <summary>Writes all that <see cref="Update"/> has put off.</summary>
    internal void Flush() => _appender.Flush();

    /// <summary>Makes anew every hour and day that readings touch.</summary>
    /// <param name="added">The readings; they are in the database already.</param>
    internal void MakeAnew(NewReadings added)
    {
        foreach (StationId station in added.Stations)
        {
            MakeAnew(station, added.Of(station));
        }
    }

    /// <summary>
    /// Carries on, or makes anew, every hour and day that new readings touch. What is carried on is written by <see cref="Flush"/>.
    /// </summary>
    /// <param name="added">The new readings; they are in the database already.</param>
    internal void Update(NewReadings added)
    {
        foreach (StationId station in added.Stations)
        {
            IReadOnlyCollection<(Series Series, List<Reading> Readings)> rows = added.Of(station);
            if (!_appender.TryAppend(station, rows))
            {
                MakeAnew(station, rows);
            }
        }
    }

    private void MakeAnew(StationId station, IReadOnlyCollection<(Series Series, List<Reading> Readings)> rows)
    {
        IReadOnlyDictionary<string, Series> all = catalog.Of(station);
        Dictionary<Series, List<long>> instants = rows.ToDictionary(
            row => row.Series, row => row.Readings.ConvertAll(reading => reading.At.ToUnixTimeMilliseconds()));
        Series? uptime = all.GetValueOrDefault(MeasurementName.ControllerUptime);
        if (uptime is not null && instants.TryGetValue(uptime, out List<long>? told))
        {
            AddJudgedBy(uptime, told, all.Values, instants);
        }

        Whereabouts whereabouts = raw.Whereabouts(station);
        Dictionary<(long After, long To), UptimeLog> uptimes = [];
        foreach ((Series series, List<long> at) in instants)
        {
            HashSet<HourKey> hours = TouchedHours(series, at, whereabouts);

            // A late uptime may judge the last reading of sealed time: that judgement is final.
            hours.RemoveWhere(hour => hour.Start.ToUnixTimeMilliseconds() < sealedTime.UpTo(station));
            foreach ((long after, long to) in Stretches(hours))
            {
                Remake(series, (after, to), hours.Contains, whereabouts, (a, b) => uptimes.TryGetValue((a, b), out UptimeLog? log)
                    ? log
                    : uptimes[(a, b)] = raw.Uptime(uptime, a, b));
            }

            foreach ((DateOnly day, PlacementId? placement) in hours.Select(hour => (hour.Day, hour.Placement)).Distinct())
            {
                rollUps.RemakeDay(series, day, Milliseconds.Number(placement));
            }
        }
    }

    /// <summary>
    /// Makes anew everything of a station whose place or zone changed in (from, to]. An hour that holds such an instant starts
    /// after from − 1 h and before to, in the old zone as in the new one. Sealed hours stay as they are.
    /// </summary>
    internal void Rebuild(StationId station, long from, long to, long? onlySeries = null)
    {
        Flush();
        Forget();
        Whereabouts whereabouts = raw.Whereabouts(station);
        IReadOnlyDictionary<string, Series> all = catalog.Of(station);
        Series? uptime = all.GetValueOrDefault(MeasurementName.ControllerUptime);
        long after = from - Milliseconds.PerHour;
        long lastSealed = sealedTime.UpTo(station) - 1;
        after = sealedTime.UpTo(station) > long.MinValue && after < lastSealed ? lastSealed : after;
        ILookup<long, (DateOnly Day, int Placement)> dropped = rollUps.DropHours(station, after, to, onlySeries);
        foreach (Series series in all.Values.Where(series => onlySeries is null || series.Id == onlySeries))
        {
            HashSet<(DateOnly Day, int Placement)> days = [.. dropped[series.Id]];
            bool Inside(HourKey key) => key.Start.ToUnixTimeMilliseconds() is var start && after < start && start < to;
            foreach (HourKey key in Remake(series, (after, to + Milliseconds.PerHour), Inside, whereabouts, (a, b) => raw.Uptime(uptime, a, b)))
            {
                days.Add((key.Day, Milliseconds.Number(key.Placement)));
            }

            foreach ((DateOnly day, int placement) in days)
            {
                rollUps.RemakeDay(series, day, placement);
            }
        }
    }

    private List<HourKey> Remake(
        Series series,
        (long After, long To) stretch,
        Func<HourKey, bool> wanted,
        Whereabouts whereabouts,
        Func<long, long, UptimeLog> uptime)
    {
        List<Reading> readings = raw.Range(series, stretch.After, stretch.To);
        bool counts = series.Nature.Kind == SeriesKind.Counter;
        Reading? previous = counts ? raw.LastTo(series, stretch.After) : null;
        UptimeLog log = counts ? uptime(stretch.After, stretch.To) : UptimeLog.Empty;
        List<HourKey> made = [];
        foreach (HourRollUp hour in HourRollUp.Of(readings, previous, series.Nature, whereabouts, log).Where(hour => wanted(hour.Key)))
        {
            rollUps.Put(series, hour);
            made.Add(hour.Key);
        }

        return made;
    }

    /// <summary>A new uptime judges the counter readings since the uptime before it: those count as touched, too.</summary>
    private void AddJudgedBy(
        Series uptime, List<long> told, IEnumerable<Series> all, Dictionary<Series, List<long>> instants)
    {
        List<(long After, long To)> stretches = [];
        foreach (long at in told)
        {
            long after = raw.LastTo(uptime, at - 1)?.At.ToUnixTimeMilliseconds() ?? long.MinValue;
            if (stretches.Count > 0 && stretches[^1].To == after)
            {
                stretches[^1] = (stretches[^1].After, at);
            }
            else
            {
                stretches.Add((after, at));
            }
        }

        foreach (Series counter in all.Where(series => series.Nature.Kind == SeriesKind.Counter))
        {
            List<long> known = instants.GetValueOrDefault(counter) ?? [];
            List<long> judged = [.. stretches
                .SelectMany(stretch => raw.Range(counter, stretch.After, stretch.To))
                .Select(reading => reading.At.ToUnixTimeMilliseconds())];
            if (judged.Count > 0)
            {
                instants[counter] = [.. known.Concat(judged).Order()];
            }
        }
    }

    /// <summary>The hours of the instants; of a counter also the hours of the readings that follow them.</summary>
    private HashSet<HourKey> TouchedHours(Series series, List<long> instants, Whereabouts whereabouts)
    {
        HashSet<HourKey> hours = [];
        HourStretch here = default;
        for (int i = 0; i < instants.Count; i++)
        {
            DateTimeOffset at = Milliseconds.Instant(instants[i]);
            here = here.Holds(at) ? here : whereabouts.StretchAround(at);
            hours.Add(here.Key);
            bool lastOfHour = i == instants.Count - 1 || !here.Holds(Milliseconds.Instant(instants[i + 1]));
            if (series.Nature.Kind == SeriesKind.Counter && lastOfHour && raw.FirstAfter(series, instants[i]) is { } next)
            {
                hours.Add(whereabouts.HourOf(next.At));
            }
        }

        return hours;
    }

    /// <summary>The hours as (after, to] stretches of time, those that meet put together.</summary>
    private static List<(long After, long To)> Stretches(IEnumerable<HourKey> hours)
    {
        List<(long After, long To)> stretches = [];
        foreach (long start in hours.Select(hour => hour.Start.ToUnixTimeMilliseconds()).Order())
        {
            if (stretches.Count > 0 && start <= stretches[^1].To)
            {
                stretches[^1] = (stretches[^1].After, start + Milliseconds.PerHour);
            }
            else
            {
                stretches.Add((start, start + Milliseconds.PerHour));
            }
        }

        return stretches;
    }
}
