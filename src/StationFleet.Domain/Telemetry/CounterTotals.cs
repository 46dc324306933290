namespace StationFleet.Domain.Telemetry;

/// <summary>One value of one series.</summary>
/// <param name="At">When it was measured; whole milliseconds.</param>
/// <param name="Value">The value; finite.</param>
public readonly record struct Reading(DateTimeOffset At, double Value);

/// <summary>What a running total gained between two readings.</summary>
/// <param name="Amount">The gain; 0 or more. After a restart it is the least that it can have been.</param>
/// <param name="IsUncertain">The data do not determine the gain: the total restarted in between.</param>
public readonly record struct CounterIncrement(double Amount, bool IsUncertain);

/// <summary>Reads gains out of running totals that restart from nought and may wrap at a declared width.</summary>
public static class CounterTotals
{
    private const double NearlyFull = 0.9;
    private const double NearlyEmpty = 0.1;

    /// <summary>What a running total gained between two readings that follow each other.</summary>
    /// <param name="previous">The earlier reading.</param>
    /// <param name="current">The later reading.</param>
    /// <param name="bootedAt">When the controller last started, as known from its uptime at or after the later reading; null when unknown.</param>
    /// <param name="wrapsAt">The value at which the total goes back to nought (its width), or null when none is declared.</param>
    /// <remarks>
    /// In this order: a start in (previous, current] is a restart, even if the value rose; a value that did not fall gained the
    /// difference; a fall from above 90 % to below 10 % of a declared width is a wrap; any other fall is a restart. After a
    /// restart what was counted before it is lost, so the later value is a lower bound and the gain is marked uncertain.
    /// </remarks>
    public static CounterIncrement Between(Reading previous, Reading current, DateTimeOffset? bootedAt, double? wrapsAt)
    {
        if (previous.At < bootedAt && bootedAt <= current.At)
        {
            return Restart(current);
        }

        if (current.Value >= previous.Value)
        {
            return new CounterIncrement(current.Value - previous.Value, IsUncertain: false);
        }

        return wrapsAt is { } width && previous.Value > NearlyFull * width && current.Value < NearlyEmpty * width && current.Value >= 0
            ? new CounterIncrement(width - previous.Value + current.Value, IsUncertain: false)
            : Restart(current);
    }

    private static CounterIncrement Restart(Reading current) => new(Math.Max(0, current.Value), IsUncertain: true);
}
