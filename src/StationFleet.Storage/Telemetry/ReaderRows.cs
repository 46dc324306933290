using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;

namespace StationFleet.Storage.Telemetry;

/// <summary>The newest value of one series, in the canonical unit of its name.</summary>
public sealed record LatestValue(string Name, DateTimeOffset At, double Value);

/// <summary>One series in one local hour at one placement.</summary>
public sealed record SeriesHour(StationId Station, string Name, HourRollUp RollUp);

/// <summary>One series on one local day at one placement.</summary>
public sealed record SeriesDay(StationId Station, string Name, DayRollUp RollUp);

/// <summary>A report with what was new in it, ascending in time.</summary>
public sealed record ReceivedReport(long Id, DateTimeOffset Received, ReportSource Source, IReadOnlyList<Measurement> Measurements)
{
    /// <summary>How far the controller's clock is ahead, or behind when negative; null when nothing says that it is wrong.</summary>
    public TimeSpan? ClockOff { get; init; }

    /// <summary>Within what time the station promised its next reading; null when it did not say.</summary>
    public TimeSpan? UpdateWithin { get; init; }

    /// <summary>The report as the watch takes it in, live and in a trial.</summary>
    public WatchReport ToWatch() => new(Received, Measurements, ClockOff > TimeSpan.Zero ? ClockOff : null) { Source = Source, UpdateWithin = UpdateWithin };
}

/// <summary>A report as the list of recent ones shows it.</summary>
public sealed record ReportSummary(
    long Id, DateTimeOffset Received, ReportSource Source, DateTimeOffset? OldestAt, DateTimeOffset? NewestAt, int Accepted, int Repeated, int SetAside);
