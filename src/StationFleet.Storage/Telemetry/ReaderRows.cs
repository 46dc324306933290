using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>The newest value of one series, in the canonical unit of its name.</summary>
public sealed record LatestValue(string Name, DateTimeOffset At, double Value);

/// <summary>One series in one local hour at one placement.</summary>
public sealed record SeriesHour(StationId Station, string Name, HourRollUp RollUp);

/// <summary>One series on one local day at one placement.</summary>
public sealed record SeriesDay(StationId Station, string Name, DayRollUp RollUp);

/// <summary>A report with what was new in it, ascending in time.</summary>
public sealed record ReceivedReport(long Id, DateTimeOffset Received, ReportSource Source, IReadOnlyList<Measurement> Measurements);

/// <summary>A report as the list of recent ones shows it.</summary>
public sealed record ReportSummary(
    long Id, DateTimeOffset Received, ReportSource Source, DateTimeOffset? OldestAt, DateTimeOffset? NewestAt, int Accepted, int Repeated, int SetAside);

/// <summary>A record that could not be counted, as it first came.</summary>
public sealed record SetAsideRow(
    long Id, StationId Station, long ReportId, DateTimeOffset Received, int Index, string Reason, string Raw);
