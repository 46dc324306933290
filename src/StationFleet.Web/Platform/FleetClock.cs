namespace StationFleet.Web.Platform;

/// <summary>
/// The time of the fleet: reports, the watch, tickets and mails go by it. It is the system's time plus an offset that only the
/// demo sets. Sign-in and cookies use the system's own <see cref="TimeProvider"/> instead.
/// </summary>
public sealed class FleetClock(TimeProvider system, TimeSpan offset) : TimeProvider
{
    private long _heldTicks;

    public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

    public override long TimestampFrequency => system.TimestampFrequency;

    public override DateTimeOffset GetUtcNow() =>
        Interlocked.Read(ref _heldTicks) is var held and > 0 ? new DateTimeOffset(held, TimeSpan.Zero) : system.GetUtcNow() + offset;

    public override long GetTimestamp() => system.GetTimestamp();

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
        system.CreateTimer(callback, state, dueTime, period);

    /// <summary>Makes the clock stand at an instant: the demo lives through missed hours before it shows its first page.</summary>
    internal void HoldAt(DateTimeOffset instant) => Interlocked.Exchange(ref _heldTicks, instant.UtcTicks);

    /// <summary>Lets the clock run again.</summary>
    internal void Release() => Interlocked.Exchange(ref _heldTicks, 0);
}
