namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>What a reader finds in a logger's file.</summary>
public abstract record LoggerLine
{
    private LoggerLine(int line) => Line = line;

    /// <summary>The line's number in the file, from 1.</summary>
    public int Line { get; }

    /// <summary>One reading; a line of a wide table holds several.</summary>
    public sealed record Reading(int Number, DateTimeOffset? Received, string Name, DateTimeOffset At, string? Unit, double Value)
        : LoggerLine(Number);

    /// <summary>A line, or one of its values, that cannot be read.</summary>
    public sealed record Fault(int Number, string Reason, string Text) : LoggerLine(Number);
}
