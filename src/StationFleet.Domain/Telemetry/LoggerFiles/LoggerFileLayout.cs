using System.Text.Json.Serialization;

namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>How a logger writes times.</summary>
public enum LoggerTimeFormat
{
    /// <summary>RFC 3339, with an offset or Z: <c>2026-07-02T06:00:00-06:00</c>.</summary>
    Rfc3339,

    /// <summary>Year first, by the logger's clock: <c>2026-07-02 06:00:00</c>.</summary>
    YearFirst,

    /// <summary>Month first, by the logger's clock: <c>7/2/2026 6:00 AM</c>.</summary>
    MonthFirst,

    /// <summary>Day first, by the logger's clock: <c>2.7.2026 06:00</c>.</summary>
    DayFirst,

    /// <summary>Seconds since 1970 in UTC.</summary>
    UnixSeconds,

    /// <summary>Milliseconds since 1970 in UTC.</summary>
    UnixMilliseconds,
}

/// <summary>Which of the two instants a local time means that comes twice, because the clocks went back.</summary>
public enum RepeatedHour
{
    /// <summary>The order of the lines tells: a time that does not lie after the reading before it, of the same series, is the second.</summary>
    ByOrder,

    /// <summary>Always the first, in summer time.</summary>
    First,

    /// <summary>Always the second, in standard time.</summary>
    Second,
}

/// <summary>A column of a table that holds one series.</summary>
/// <param name="Column">The column, from 0.</param>
/// <param name="Name">The measurement's name.</param>
/// <param name="Unit">The unit of its values; null takes the one of the table of names.</param>
public sealed record SeriesColumn(int Column, string Name, string? Unit);

/// <summary>Where the values stand in a line.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(Listed), "list")]
[JsonDerivedType(typeof(Table), "table")]
public abstract record LoggerColumns
{
    private LoggerColumns()
    {
    }

    /// <summary>One value in a line, with its name.</summary>
    /// <param name="Name">The column of the name, from 0.</param>
    /// <param name="Unit">The column of the unit; null when there is none.</param>
    /// <param name="Value">The column of the value.</param>
    public sealed record Listed(int Name, int? Unit, int Value) : LoggerColumns;

    /// <summary>One value of each series in a line.</summary>
    /// <param name="Series">The columns that are read.</param>
    public sealed record Table(IReadOnlyList<SeriesColumn> Series) : LoggerColumns;
}

/// <summary>How a logger's file is laid out.</summary>
/// <param name="Delimiter">The character between cells.</param>
/// <param name="HasDecimalComma">Numbers are written <c>12,8</c>.</param>
/// <param name="LinesBefore">Lines before the table, left out.</param>
/// <param name="HasHeader">The table's first line names the columns.</param>
/// <param name="TimeFormat">How times are written.</param>
/// <param name="Zone">The logger's clock, for times without an offset: an IANA zone, or an offset such as <c>-07:00</c>.</param>
/// <param name="Repeated">What a local time means that comes twice.</param>
/// <param name="Time">The column of the time, or of its date, from 0.</param>
/// <param name="Clock">The column of the time of day, when it stands apart from the date.</param>
/// <param name="Received">The column of the time of arrival; null when there is none.</param>
/// <param name="Station">The column of the station's code; null when there is none.</param>
/// <param name="Columns">Where the values are.</param>
public sealed record LoggerFileLayout(
    char Delimiter,
    bool HasDecimalComma,
    int LinesBefore,
    bool HasHeader,
    LoggerTimeFormat TimeFormat,
    string Zone,
    RepeatedHour Repeated,
    int Time,
    int? Clock,
    int? Received,
    int? Station,
    LoggerColumns Columns)
{
    /// <summary>The header of our own files.</summary>
    public const string OwnHeader = "at,name,unit,value";

    /// <summary>The header of our own files that tell when each line became known.</summary>
    public const string OwnHeaderWithReceived = "received," + OwnHeader;

    /// <summary>Our own layout: the columns at, name, unit and value, and perhaps received and station, in any order.</summary>
    /// <param name="header">The file's first line.</param>
    /// <returns>The layout; null when a file begins otherwise.</returns>
    public static LoggerFileLayout? Own(string? header)
    {
        string[] names = [.. OwnColumns(header ?? "").Select(name => name.ToLowerInvariant())];
        int? Place(string name) => Array.IndexOf(names, name) is >= 0 and var column ? column : null;
        return (Place("at"), Place("name"), Place("unit"), Place("value")) is ({ } at, { } name, { } unit, { } value)
            ? new LoggerFileLayout(
                ',',
                HasDecimalComma: false,
                LinesBefore: 0,
                HasHeader: true,
                LoggerTimeFormat.Rfc3339,
                "UTC",
                RepeatedHour.ByOrder,
                at,
                Clock: null,
                Place("received"),
                Place("station"),
                new LoggerColumns.Listed(name, unit, value))
            : null;
    }

    /// <summary>The names of the columns, as our own layout divides them.</summary>
    /// <param name="header">The file's first line.</param>
    internal static IReadOnlyList<string> OwnColumns(string header) =>
        [.. (CsvLine.Split(header.TrimStart('\uFEFF'), ',') ?? []).Select(name => name.Trim())];
}
