using System.CommandLine;
using System.Globalization;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Telemetry.LoggerFiles;

namespace StationFleet.Cli;

/// <summary>The options that say how a logger's file is laid out; what they leave open is guessed.</summary>
internal sealed class LayoutOptions
{
    private static readonly Dictionary<string, LoggerTimeFormat> Formats = new(StringComparer.OrdinalIgnoreCase)
    {
        ["rfc3339"] = LoggerTimeFormat.Rfc3339, ["year-first"] = LoggerTimeFormat.YearFirst, ["month-first"] = LoggerTimeFormat.MonthFirst,
        ["day-first"] = LoggerTimeFormat.DayFirst, ["unix"] = LoggerTimeFormat.UnixSeconds, ["unix-ms"] = LoggerTimeFormat.UnixMilliseconds,
    };

    private readonly Option<string?> _zone = new("--zone") { Description = "The logger's clock: an IANA zone such as America/Boise, or an offset such as -07:00." };
    private readonly Option<string?> _format = new("--time-format") { Description = "How times are written: " + string.Join(", ", Formats.Keys) + "." };
    private readonly Option<RepeatedHour> _repeated = new("--repeated-hour")
    {
        Description = "What a time means that comes twice when the clocks go back: by the order of the lines (ByOrder), First or Second.",
    };

    private readonly Option<string?> _delimiter = new("--delimiter") { Description = "The character between cells; 'tab' for a tabulator." };
    private readonly Option<bool?> _comma = new("--decimal-comma") { Description = "Numbers are written 12,8." };
    private readonly Option<string?> _time = new("--time") { Description = "The column of the time, by heading or by number from 1." };
    private readonly Option<string?> _clock = new("--clock") { Description = "The column of the time of day, when the date stands apart." };
    private readonly Option<string?> _name = new("--name") { Description = "The column of the name, in a list with one value in a line." };
    private readonly Option<string?> _unit = new("--unit") { Description = "The column of the unit." };
    private readonly Option<string?> _value = new("--value") { Description = "The column of the value." };
    private readonly Option<string[]> _series = new("--series")
    {
        Description = "A column that holds one series: COLUMN=name, or COLUMN=name:unit. May be given again and again.",
    };

    public IEnumerable<Option> All => [_zone, _format, _repeated, _delimiter, _comma, _time, _clock, _name, _unit, _value, _series];

    /// <summary>The layout of a file: the guess, but for what the options say.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="path">The file.</param>
    /// <param name="placeZone">The zone of the place where the station stands; null when it is not known here.</param>
    /// <param name="known">Names that the station already measures.</param>
    public (LoggerFileLayout Layout, IReadOnlyList<string> Headings) Read(
        ParseResult parsed, string path, string? placeZone, IReadOnlyCollection<string> known)
    {
        string? zone = parsed.GetValue(_zone);
        LayoutGuess guess = LayoutGuess.Of(LoggerFileText.FirstLines(path), zone ?? placeZone ?? "UTC", known, DelimiterOf(parsed.GetValue(_delimiter)));
        if (guess.Layout is not { } layout)
        {
            throw new VerbFailure(ExitCodes.Failed, $"No line of {path} holds a time and a number that could be read; see docs/logger-files.md.");
        }

        int Column(string text) => ColumnOf(text, guess.Headings, path);
        int? Maybe(Option<string?> option) => parsed.GetValue(option) is { } text ? Column(text) : null;
        layout = layout with
        {
            TimeFormat = parsed.GetValue(_format) is { } format ? FormatOf(format) : layout.TimeFormat,
            Repeated = parsed.GetValue(_repeated),
            HasDecimalComma = parsed.GetValue(_comma) ?? layout.HasDecimalComma,
            Time = Maybe(_time) ?? layout.Time,
            Clock = Maybe(_clock) ?? (parsed.GetValue(_time) is null ? layout.Clock : null),
            Columns = ColumnsOf(parsed, layout.Columns, Column),
        };
        bool isLocal = layout.TimeFormat is LoggerTimeFormat.YearFirst or LoggerTimeFormat.MonthFirst or LoggerTimeFormat.DayFirst;
        if (isLocal && zone is null && placeZone is null)
        {
            throw new VerbFailure(ExitCodes.WrongUse, $"The times in {path} state no offset: say by --zone which clock they go by.");
        }

        layout = layout with { Zone = isLocal ? zone ?? placeZone! : "UTC" };
        return LoggerZone.Find(layout.Zone) is null
            ? throw new VerbFailure(ExitCodes.WrongUse, $"'{layout.Zone}' is no zone such as America/Boise and no offset such as -07:00.")
            : (layout, guess.Headings);
    }

    private static char? DelimiterOf(string? text) => text switch
    {
        null => null,
        "tab" => '\t',
        [var one] => one,
        _ => throw new VerbFailure(ExitCodes.WrongUse, $"'{text}' is no single character."),
    };

    private LoggerColumns ColumnsOf(ParseResult parsed, LoggerColumns guessed, Func<string, int> column)
    {
        string[] series = parsed.GetValue(_series) ?? [];
        if (series.Length > 0)
        {
            return new LoggerColumns.Table([.. series.Select(text => SeriesOf(text, column))]);
        }

        (string? name, string? value) = (parsed.GetValue(_name), parsed.GetValue(_value));
        return (name, value) switch
        {
            (null, null) => guessed,
            (not null, not null) => new LoggerColumns.Listed(column(name), parsed.GetValue(_unit) is { } unit ? column(unit) : null, column(value)),
            _ => throw new VerbFailure(ExitCodes.WrongUse, "A list needs both --name and --value."),
        };
    }

    private static SeriesColumn SeriesOf(string text, Func<string, int> column)
    {
        int equals = text.LastIndexOf('=');
        if (equals <= 0 || equals == text.Length - 1)
        {
            throw new VerbFailure(ExitCodes.WrongUse, $"'{text}' is not of the form COLUMN=name or COLUMN=name:unit.");
        }

        string[] parts = text[(equals + 1)..].Split(':', 2);
        return new SeriesColumn(column(text[..equals]), parts[0], parts.Length == 2 ? parts[1] : null);
    }

    private static int ColumnOf(string text, IReadOnlyList<string> headings, string path)
    {
        int named = headings.ToList().FindIndex(heading => heading.Equals(text, StringComparison.OrdinalIgnoreCase));
        return named >= 0 ? named
            : int.TryParse(text, CultureInfo.InvariantCulture, out int number) && number >= 1 && number <= headings.Count ? number - 1
            : throw new VerbFailure(ExitCodes.WrongUse, $"{path} has no column '{text}'; its columns are: {string.Join(", ", headings)}.");
    }

    private static LoggerTimeFormat FormatOf(string text) => Formats.TryGetValue(text, out LoggerTimeFormat format)
        ? format
        : throw new VerbFailure(ExitCodes.WrongUse, $"'{text}' is no time format; use one of {string.Join(", ", Formats.Keys)}.");
}
