using System.Globalization;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>A file's layout as a person chooses it.</summary>
public sealed class LayoutFields
{
    /// <summary>A column that may hold a series; without a name it is left out.</summary>
    public sealed class ColumnFields
    {
        public int Column { get; init; }

        public string Name { get; set; } = "";

        public string Unit { get; set; } = "";
    }

    private LoggerFileLayout _base = null!;

    public string Delimiter { get; set; } = ",";

    public string DecimalMark { get; set; } = ".";

    public string TimeFormat { get; set; } = "";

    public string Zone { get; set; } = "";

    public string Repeated { get; set; } = "";

    public string Time { get; set; } = "";

    public string Clock { get; set; } = "";

    /// <summary>«list» or «table».</summary>
    public string Kind { get; set; } = "table";

    public string Name { get; set; } = "";

    public string Unit { get; set; } = "";

    public string Value { get; set; } = "";

    public IReadOnlyList<ColumnFields> Columns { get; private set; } = [];

    public bool IsLocal => TimeFormat is nameof(LoggerTimeFormat.YearFirst) or nameof(LoggerTimeFormat.MonthFirst) or nameof(LoggerTimeFormat.DayFirst);

    public static LayoutFields Of(LoggerFileLayout layout, IReadOnlyList<string> headings, string placeZone, IReadOnlyCollection<string> names)
    {
        LoggerColumns.Listed? listed = layout.Columns as LoggerColumns.Listed;
        IReadOnlyList<SeriesColumn> series = layout.Columns is LoggerColumns.Table table ? table.Series : [];
        bool isLocal = layout.TimeFormat is LoggerTimeFormat.YearFirst or LoggerTimeFormat.MonthFirst or LoggerTimeFormat.DayFirst;
        return new LayoutFields
        {
            _base = layout,
            Delimiter = layout.Delimiter.ToString(),
            DecimalMark = layout.HasDecimalComma ? "," : ".",
            TimeFormat = layout.TimeFormat.ToString(),
            Zone = isLocal ? layout.Zone : placeZone,
            Repeated = layout.Repeated.ToString(),
            Time = Text(layout.Time),
            Clock = Text(layout.Clock),
            Kind = listed is null ? "table" : "list",
            Name = Text(listed?.Name),
            Unit = Text(listed?.Unit),
            Value = Text(listed?.Value),
            Columns =
            [
                .. headings.Select((heading, column) => (Heading: heading, Series: series.FirstOrDefault(row => row.Column == column), Column: column))
                    .Select(row => new ColumnFields { Column = row.Column, Name = row.Series?.Name ?? "", Unit = row.Series?.Unit ?? "" }),
            ],
        };
    }

    /// <summary>The layout that the fields say.</summary>
    /// <param name="wrong">What cannot be taken, by field.</param>
    public LoggerFileLayout? Read(out WrongFields wrong)
    {
        wrong = [];
        if (IsLocal && LoggerZone.Find(Zone) is null)
        {
            wrong.Note(nameof(Zone), "Write a time zone such as America/Boise, or an offset such as -07:00.");
        }

        LoggerColumns columns = Kind == "list" ? Listed(wrong) : Table(wrong);
        return wrong.Count > 0 ? null : _base with
        {
            HasDecimalComma = DecimalMark == ",",
            TimeFormat = Enum.Parse<LoggerTimeFormat>(TimeFormat),
            Zone = IsLocal ? Zone.Trim() : "UTC",
            Repeated = Enum.Parse<RepeatedHour>(Repeated),
            Time = Number(Time) ?? 0,
            Clock = Number(Clock),
            Columns = columns,
        };
    }

    private LoggerColumns.Listed Listed(WrongFields wrong)
    {
        if (Number(Name) is null)
        {
            wrong.Note(nameof(Name), "Choose the column that says what was measured.");
        }

        if (Number(Value) is null)
        {
            wrong.Note(nameof(Value), "Choose the column of the values.");
        }

        return new LoggerColumns.Listed(Number(Name) ?? 0, Number(Unit), Number(Value) ?? 0);
    }

    private LoggerColumns.Table Table(WrongFields wrong)
    {
        ColumnFields[] read = [.. Columns.Where(column => column.Name.Trim().Length > 0 && Text(column.Column) != Time && Text(column.Column) != Clock)];
        if (read.Length == 0)
        {
            wrong.Note(nameof(Columns), "Name at least one column.");
        }

        foreach (ColumnFields column in read.Where(column => !MeasurementName.IsLawful(column.Name.Trim())))
        {
            wrong.Note($"{nameof(Columns)}-{Text(column.Column)}", "Use letters, digits and - : . / _ only, such as battery/voltage.");
        }

        if (read.GroupBy(column => column.Name.Trim()).FirstOrDefault(same => same.Count() > 1) is { } twice)
        {
            wrong.Note($"{nameof(Columns)}-{Text(twice.Last().Column)}", "Another column has this name.");
        }

        return new LoggerColumns.Table(
            [.. read.Select(column => new SeriesColumn(column.Column, column.Name.Trim(), column.Unit.Trim() is { Length: > 0 } unit ? unit : null))]);
    }

    private static string Text(int? column) => column?.ToString(CultureInfo.InvariantCulture) ?? "";

    private static int? Number(string text) => int.TryParse(text, CultureInfo.InvariantCulture, out int column) ? column : null;
}
