namespace StationFleet.Domain.Telemetry;

/// <summary>What a station's <c>controller/uptime</c> readings say about when its controller started.</summary>
public sealed class UptimeLog
{
    private readonly IReadOnlyList<Reading> _readings;

    /// <summary>Makes a log from uptime readings.</summary>
    /// <param name="readings">Shape (n,), n ≥ 0, ascending in time; values in seconds.</param>
    public UptimeLog(IReadOnlyList<Reading> readings) => _readings = readings;

    /// <summary>A log of a station that never told its uptime.</summary>
    public static UptimeLog Empty { get; } = new([]);

    /// <summary>When the controller last started, judged by the first uptime reading at or after an instant; null when there is none.</summary>
    /// <param name="instant">Any instant.</param>
    public DateTimeOffset? BootKnownAt(DateTimeOffset instant)
    {
        (int low, int high) = (0, _readings.Count);
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (_readings[middle].At < instant)
            {
                low = middle + 1;
            }
            else
            {
                high = middle;
            }
        }

        return low == _readings.Count ? null : BootOf(_readings[low]);
    }

    // An uptime that reaches back before the calendar began, or a negative one, is a broken reading and tells nothing.
    private static DateTimeOffset? BootOf(Reading reading) =>
        reading.Value >= 0 && reading.Value < (reading.At - DateTimeOffset.UnixEpoch).TotalSeconds
            ? reading.At.AddTicks(-(long)(reading.Value * TimeSpan.TicksPerSecond))
            : null;
}
