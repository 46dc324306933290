using StationFleet.Domain.Fleet;
using static StationFleet.Domain.Time.Instants;

namespace StationFleet.Domain.Watch;

/// <summary>A station's quiet periods, joined where they touch, for quick questions.</summary>
public sealed class QuietCalendar
{
    private readonly List<(DateTimeOffset From, DateTimeOffset? To)> _stretches = [];

    /// <summary>Joins periods that overlap or touch.</summary>
    /// <param name="periods">Quiet periods in any order; empty ones are left out.</param>
    public QuietCalendar(IEnumerable<QuietPeriod> periods)
    {
        foreach (QuietPeriod period in periods.Where(p => p.To is null || p.To > p.From).OrderBy(p => p.From))
        {
            if (_stretches.Count > 0 && (_stretches[^1].To is null || period.From <= _stretches[^1].To))
            {
                (DateTimeOffset from, DateTimeOffset? to) = _stretches[^1];
                _stretches[^1] = (from, to is null || period.To is null ? null : Later(to.Value, period.To.Value));
            }
            else
            {
                _stretches.Add((period.From, period.To));
            }
        }
    }

    /// <summary>Whether there is no quiet period at all.</summary>
    public bool IsEmpty => _stretches.Count == 0;

    /// <summary>Whether the station is not required to work at an instant.</summary>
    /// <param name="instant">Any instant.</param>
    public bool IsQuiet(DateTimeOffset instant)
    {
        int index = LastStartedBy(instant);
        return index >= 0 && (_stretches[index].To is null || instant < _stretches[index].To);
    }

    /// <summary>When the last quiet stretch ended, seen from an instant; null when none has ended by then.</summary>
    /// <param name="instant">Any instant.</param>
    public DateTimeOffset? LastEnd(DateTimeOffset instant)
    {
        int index = LastStartedBy(instant);
        if (index >= 0 && (_stretches[index].To is null || instant < _stretches[index].To))
        {
            index--;
        }

        return index >= 0 ? _stretches[index].To : null;
    }

    private int LastStartedBy(DateTimeOffset instant)
    {
        int index = _stretches.Count - 1;
        while (index >= 0 && _stretches[index].From > instant)
        {
            index--;
        }

        return index;
    }
}
