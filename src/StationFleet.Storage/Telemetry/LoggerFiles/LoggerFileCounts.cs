using StationFleet.Domain.Time;

namespace StationFleet.Storage.Telemetry.LoggerFiles;

/// <summary>Lines that were set aside for one reason.</summary>
/// <param name="Reason">The reason of the first of them, with its own words and figures.</param>
/// <param name="Count">How many.</param>
/// <param name="FirstLine">The number of the first line.</param>
public sealed record SetAsideCount(string Reason, int Count, int FirstLine);

/// <summary>What a file holds, and how that stands to what is known; nothing was written.</summary>
/// <param name="Lines">How many lines hold a reading or a fault.</param>
/// <param name="Readings">Readings that can count.</param>
/// <param name="Known">Of these, those already known with the same value.</param>
/// <param name="Other">Of these, those for which another value is known: the first stays.</param>
/// <param name="Names">The names of the series, in order.</param>
/// <param name="FirstAt">The first reading; null when none can count.</param>
/// <param name="LastAt">The last reading.</param>
/// <param name="SetAside">What cannot count, by reason, most first.</param>
public sealed record LoggerFileSurvey(
    int Lines,
    int Readings,
    int Known,
    int Other,
    IReadOnlyList<string> Names,
    DateTimeOffset? FirstAt,
    DateTimeOffset? LastAt,
    IReadOnlyList<SetAsideCount> SetAside)
{
    /// <summary>Readings that an import would add.</summary>
    public int New => Readings - Known - Other;
}

/// <summary>How an import ended.</summary>
public enum ImportEnd
{
    /// <summary>It is under way, or was when the server stopped.</summary>
    Running,

    /// <summary>The whole file was read.</summary>
    Done,

    /// <summary>A person stopped it; what was stored stays.</summary>
    Stopped,

    /// <summary>The database was busy for too long, or the disk is full; what was stored stays.</summary>
    NotWritten,

    /// <summary>Something unforeseen went wrong; what was stored stays.</summary>
    Failed,
}

/// <summary>What an import has done so far, or in the end.</summary>
/// <param name="End">How it ended.</param>
/// <param name="Lines">How many lines were read.</param>
/// <param name="Added">Readings that are new.</param>
/// <param name="Repeated">Readings that were known.</param>
/// <param name="SetAside">What was set aside, by reason, most first.</param>
/// <param name="FirstAt">The first reading that is new; null when none is.</param>
/// <param name="LastAt">The last reading that is new.</param>
/// <param name="Filled">Gaps of more than two hours that are none any more; empty until the end.</param>
public sealed record LoggerFileCounts(
    ImportEnd End,
    int Lines,
    int Added,
    int Repeated,
    IReadOnlyList<SetAsideCount> SetAside,
    DateTimeOffset? FirstAt,
    DateTimeOffset? LastAt,
    IReadOnlyList<UtcInterval> Filled)
{
    /// <summary>Before the first line.</summary>
    public static LoggerFileCounts Nothing { get; } = new(ImportEnd.Running, 0, 0, 0, [], null, null, []);
}
