namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>What a reader finds in a logger's file.</summary>
public abstract record LoggerLine
{
    private LoggerLine(int line) => Line = line;

    /// <summary>The line's number in the file, from 1.</summary>
    public int Line { get; }

    /// <summary>One reading; a line of a table holds several.</summary>
    public sealed record Reading(int Number, DateTimeOffset? Received, string Name, DateTimeOffset At, string? Unit, double Value)
        : LoggerLine(Number)
    {
        /// <summary>The code of the station that the line names; null when the file has no such column.</summary>
        public string? Station { get; init; }

        /// <summary>What was measured, in the unit of the file.</summary>
        public Measurement Measurement => new(Name, At, Value);
    }

    /// <summary>A line, or one of its values, that cannot be read.</summary>
    public sealed record Fault(int Number, string Reason, string Text) : LoggerLine(Number);
}
