using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Storage.Telemetry;

/// <summary>
/// The end of a series as its roll-ups have it: the newest reading, its hour, and the day's hours before that one. A reading that
/// follows is added to it without reading anything back.
/// </summary>
internal sealed class SeriesEnd(Series series, Reading? last)
{
    private HourStretch _here;
    private RollUpFigures? _hour;
    private RollUpFigures? _earlier;
    private int _earlierHours;
    private bool _isAhead;

    /// <summary>The newest reading, or null when there is none.</summary>
    internal Reading? Last { get; private set; } = last;

    /// <summary>Adds a reading that is newer than all others, and writes each hour and day that it leaves behind.</summary>
    internal void Append(Reading reading, Whereabouts whereabouts, UptimeLog uptime, RollUpRows rows)
    {
        HourStretch here = _here.Holds(reading.At) ? _here : whereabouts.StretchAround(reading.At);
        RollUpFigures figures = RollUpFigures.Of(reading, Last, series.Nature, here, uptime);
        if (here.Key != _here.Key || _hour is null)
        {
            Enter(here, rows);
        }

        _hour = _hour is { } sofar ? sofar.Then(figures) : figures;
        _here = here;
        _isAhead = true;
        Last = reading;
    }

    /// <summary>Writes the newest hour and day, if they are not written yet.</summary>
    internal void Write(RollUpRows rows)
    {
        if (_hour is not { } hour || !_isAhead)
        {
            return;
        }

        _isAhead = false;
        rows.Put(series, new HourRollUp(_here.Key, hour));
        rows.Put(series, DayRollUp.OfSum(_here.Key, _earlier is { } earlier ? earlier.Then(hour) : hour, _earlierHours + 1));
    }

    private void Enter(HourStretch there, RollUpRows rows)
    {
        (HourKey now, HourKey next) = (_here.Key, there.Key);
        if (_hour is { } left && (now.Day, now.Placement) == (next.Day, next.Placement) && now.Start < next.Start)
        {
            // Its day is written with the hour that follows.
            rows.Put(series, new HourRollUp(now, left));
            _earlier = _earlier is { } earlier ? earlier.Then(left) : left;
            _earlierHours++;
            _hour = null;
            return;
        }

        // Another day or place: it may have hours already, from before the station came back or the server started.
        Write(rows);
        List<HourRollUp> known = rows.HoursOf(
            series,
            next.Day,
            Milliseconds.Number(next.Placement),
            LocalCalendar.StartOf(next.Day, there.Zone).ToUnixTimeMilliseconds() - Milliseconds.PerHour,
            next.Start.ToUnixTimeMilliseconds());
        List<RollUpFigures> before = [.. known.Where(hour => hour.Key.Start < next.Start).Select(hour => hour.Figures)];
        _earlier = before.Count == 0 ? null : before.Aggregate((sum, hour) => sum.Then(hour));
        _earlierHours = before.Count;
        _hour = known.FirstOrDefault(hour => hour.Key == next)?.Figures;
    }
}
