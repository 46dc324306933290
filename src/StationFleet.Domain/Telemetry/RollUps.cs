using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Telemetry;

/// <summary>What the measurements of one series in one bucket come to.</summary>
/// <param name="Count">How many measurements; at least 1.</param>
/// <param name="Min">The smallest value.</param>
/// <param name="Max">The largest value.</param>
/// <param name="Sum">The sum of the values.</param>
/// <param name="First">The first value.</param>
/// <param name="FirstAt">When the first value was measured.</param>
/// <param name="Last">The last value.</param>
/// <param name="LastAt">When the last value was measured.</param>
/// <param name="Known">Counters: gained between readings of which both ends lie in this bucket; 0 for gauges.</param>
/// <param name="AcrossHours">Counters, hours only: gained since a reading in an earlier hour of the same local day.</param>
/// <param name="AcrossDays">Counters: gained since a reading before this local day.</param>
/// <param name="Uncertain">Counters: how many gains the data do not determine (a restart); their least amount is counted.</param>
public readonly record struct RollUpFigures(
    int Count,
    double Min,
    double Max,
    double Sum,
    double First,
    DateTimeOffset FirstAt,
    double Last,
    DateTimeOffset LastAt,
    double Known,
    double AcrossHours,
    double AcrossDays,
    int Uncertain)
{
    /// <summary>The mean of the values; not weighted by time.</summary>
    public double Mean => Sum / Count;

    /// <summary>Everything a counter gained up to a reading in this bucket.</summary>
    public double Gained => Known + AcrossHours + AcrossDays;

    /// <summary>The figures of a single measurement that gained nothing.</summary>
    /// <param name="reading">The measurement.</param>
    public static RollUpFigures Of(Reading reading) =>
        new(1, reading.Value, reading.Value, reading.Value, reading.Value, reading.At, reading.Value, reading.At, 0, 0, 0, 0);

    /// <summary>The figures of a single measurement, with what a counter gained since the one before.</summary>
    /// <param name="reading">The measurement.</param>
    /// <param name="previous">The series' measurement before it, or null when there is none.</param>
    /// <param name="series">How the series counts.</param>
    /// <param name="here">The hour that the measurement is counted in.</param>
    /// <param name="uptime">The station's uptime readings, up to the first at or after the measurement.</param>
    public static RollUpFigures Of(Reading reading, Reading? previous, SeriesNature series, HourStretch here, UptimeLog uptime) =>
        series.Kind == SeriesKind.Counter && previous is { } before
            ? WithGain(
                Of(reading), CounterTotals.Between(before, reading, uptime.BootKnownAt(reading.At), series.WrapsAt), before.At, here)
            : Of(reading);

    /// <summary>The figures of two buckets taken together.</summary>
    /// <param name="later">The figures of a bucket that lies after this one.</param>
    public RollUpFigures Then(RollUpFigures later) => new(
        Count + later.Count,
        Math.Min(Min, later.Min),
        Math.Max(Max, later.Max),
        Sum + later.Sum,
        First,
        FirstAt,
        later.Last,
        later.LastAt,
        Known + later.Known,
        AcrossHours + later.AcrossHours,
        AcrossDays + later.AcrossDays,
        Uncertain + later.Uncertain);

    // The interval (previous, this] begins just after the previous reading, in the hour that the reading's instant opens.
    private static RollUpFigures WithGain(RollUpFigures figures, CounterIncrement gain, DateTimeOffset began, HourStretch here)
    {
        HourKey key = here.Key;
        bool sameHour = began >= key.Start && (began >= here.After || LocalCalendar.HourStart(began, here.Zone) == key.Start);
        bool sameDay = sameHour || LocalCalendar.DateOf(began, here.Zone) == key.Day;
        return figures with
        {
            Known = sameHour ? gain.Amount : 0,
            AcrossHours = sameDay && !sameHour ? gain.Amount : 0,
            AcrossDays = sameDay ? 0 : gain.Amount,
            Uncertain = gain.IsUncertain ? 1 : 0,
        };
    }
}

/// <summary>One series in one local hour at one placement.</summary>
/// <param name="Key">The hour and the placement.</param>
/// <param name="Figures">What its measurements come to.</param>
public sealed record HourRollUp(HourKey Key, RollUpFigures Figures)
{
    /// <summary>The hours of a stretch of one series: a pure function of its readings, the reading before them and the boots.</summary>
    /// <param name="readings">Every reading of the hours asked for, ascending in time.</param>
    /// <param name="previous">The last reading before them, or null when there is none.</param>
    /// <param name="series">How the series counts.</param>
    /// <param name="whereabouts">Where the station stood.</param>
    /// <param name="uptime">The station's uptime readings, up to the first at or after the last reading.</param>
    /// <returns>One roll-up per hour and placement, in the order of their first reading.</returns>
    public static IReadOnlyList<HourRollUp> Of(
        IEnumerable<Reading> readings, Reading? previous, SeriesNature series, Whereabouts whereabouts, UptimeLog uptime)
    {
        List<HourKey> order = [];
        Dictionary<HourKey, RollUpFigures> hours = [];
        HourStretch here = default;
        foreach (Reading reading in readings)
        {
            here = here.Holds(reading.At) ? here : whereabouts.StretchAround(reading.At);
            HourKey key = here.Key;
            RollUpFigures figures = RollUpFigures.Of(reading, previous, series, here, uptime);
            if (hours.TryGetValue(key, out RollUpFigures sofar))
            {
                hours[key] = sofar.Then(figures);
            }
            else
            {
                hours.Add(key, figures);
                order.Add(key);
            }

            previous = reading;
        }

        return [.. order.Select(key => new HourRollUp(key, hours[key]))];
    }
}

/// <summary>One series on one local day at one placement.</summary>
/// <param name="Day">The local day.</param>
/// <param name="Placement">The placement, or null in transit.</param>
/// <param name="Figures">What its measurements come to.</param>
/// <param name="Hours">How many of its clock hours have a measurement.</param>
public sealed record DayRollUp(DateOnly Day, PlacementId? Placement, RollUpFigures Figures, int Hours)
{
    /// <summary>A day out of its hours: what was known within hours and across them is known within the day.</summary>
    /// <param name="hours">All hours of one day and one placement, ascending in time; at least one.</param>
    /// <exception cref="ArgumentException">There is no hour.</exception>
    public static DayRollUp Of(IReadOnlyCollection<HourRollUp> hours)
    {
        if (hours.Count == 0)
        {
            throw new ArgumentException("A day needs at least one hour.", nameof(hours));
        }

        return OfSum(hours.First().Key, hours.Select(hour => hour.Figures).Aggregate((sum, hour) => sum.Then(hour)), hours.Count);
    }

    /// <summary>A day out of its hours' figures, taken together already.</summary>
    /// <param name="key">One of its hours.</param>
    /// <param name="sum">The figures of its hours, each taken together with those before it.</param>
    /// <param name="hours">How many hours they are.</param>
    public static DayRollUp OfSum(HourKey key, RollUpFigures sum, int hours) =>
        new(key.Day, key.Placement, sum with { Known = sum.Known + sum.AcrossHours, AcrossHours = 0 }, hours);
}

/// <summary>How a series counts.</summary>
/// <param name="Kind">A running total or a momentary value.</param>
/// <param name="WrapsAt">Counters: the declared width at which the total goes back to nought, or null.</param>
public readonly record struct SeriesNature(SeriesKind Kind, double? WrapsAt = null);
