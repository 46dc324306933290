using StationFleet.Domain.Quantities;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Domain.Time;
using StationFleet.Storage.Telemetry.LoggerFiles;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>What pages say of loggers' files.</summary>
internal static class LoggerFileWords
{
    /// <summary>«1,204 readings of five series, 2 July 06:00 to 5 July 18:15; 312 are already known.»</summary>
    public static string Survey(LoggerFileSurvey survey, DateTimeOffset now, TimeZoneInfo zone)
    {
        if (survey.FirstAt is not { } first)
        {
            return "No reading of this file can count as it is read now: look at the columns and at the clock.";
        }

        string known = survey.Known switch
        {
            0 => "none is known yet",
            1 => "one is already known",
            var all when all == survey.Readings => "all are already known",
            var some => $"{NumberWords.Count(some)} are already known",
        };
        string other = survey.Other == 0 ? "" : $" {NumberWords.Capital(Count(survey.Other, "has", "have"))} another value than the one known: the first stays.";
        return $"{NumberWords.Capital(Count(survey.Readings, "reading", "readings"))} of {Count(survey.Names.Count, "series", "series")}, "
            + $"{Span(first, survey.LastAt!.Value, now, zone)}; {known}.{other}";
    }

    /// <summary>The first line of an import's page.</summary>
    public static string Headline(ReadLoggerFile.View view) => (view.IsUnderWay, view.Counts.End) switch
    {
        (true, _) => $"Reading {view.FileName} of {view.Station}…",
        (_, ImportEnd.Running) => $"The import of {view.FileName} was cut short when the server stopped.",
        (_, ImportEnd.Done) when view.Counts.Added == 0 => $"Nothing in {view.FileName} was new for {view.Station}.",
        (_, ImportEnd.Done) => $"{NumberWords.Capital(Count(view.Counts.Added, "reading", "readings"))} of {view.FileName} {(view.Counts.Added == 1 ? "is" : "are")} new for {view.Station}.",
        (_, ImportEnd.Stopped) => $"The import of {view.FileName} was stopped.",
        (_, ImportEnd.NotWritten) => $"The import of {view.FileName} ended early: the database was busy for too long, or the disk is full.",
        _ => $"The import of {view.FileName} failed.",
    };

    /// <summary>What to do after an import that did not reach the file's end; null when it did.</summary>
    public static string? Advice(ReadLoggerFile.View view) =>
        view.IsUnderWay || view.Counts.End == ImportEnd.Done ? null
        : "What was stored stays. Import the file again: what is known is not counted twice.";

    public static string End(ImportEnd end) => end switch
    {
        ImportEnd.Running => "under way",
        ImportEnd.Done => "done",
        ImportEnd.Stopped => "stopped",
        ImportEnd.NotWritten => "ended early",
        _ => "failed",
    };

    public static string Of(LoggerTimeFormat format) => format switch
    {
        LoggerTimeFormat.Rfc3339 => "with an offset: 2026-07-02T06:00:00-06:00",
        LoggerTimeFormat.YearFirst => "year first: 2026-07-02 06:00",
        LoggerTimeFormat.MonthFirst => "month first: 7/2/2026 6:00 AM",
        LoggerTimeFormat.DayFirst => "day first: 2.7.2026 06:00",
        LoggerTimeFormat.UnixSeconds => "seconds since 1970",
        _ => "milliseconds since 1970",
    };

    public static string Of(RepeatedHour repeated) => repeated switch
    {
        RepeatedHour.ByOrder => "by the order of the lines",
        RepeatedHour.First => "the first, summer time",
        _ => "the second, standard time",
    };

    public static string Span(DateTimeOffset from, DateTimeOffset to, DateTimeOffset now, TimeZoneInfo zone) =>
        $"{SpokenTime.At(from, now, zone)} to {SpokenTime.At(to, now, zone)}";

    public static string Count(int count, string one, string many) => $"{NumberWords.Count(count)} {(count == 1 ? one : many)}";
}
