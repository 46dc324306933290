namespace StationFleet.Domain.Telemetry;

/// <summary>How a report came.</summary>
public enum ReportSource
{
    /// <summary>The station sent it: a sign of life.</summary>
    Station,

    /// <summary>A person brought it in a logger's file: it says nothing of whether the station reports.</summary>
    LoggerFile,

    /// <summary>A person had records tried again that were set aside: likewise.</summary>
    Retry,
}
