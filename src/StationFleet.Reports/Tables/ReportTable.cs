namespace StationFleet.Reports.Tables;

/// <summary>What a column holds; decides its alignment, its guard and the type that its description names.</summary>
public enum ColumnKind
{
    /// <summary>Words.</summary>
    Text,

    /// <summary>Whole numbers.</summary>
    Count,

    /// <summary>Numbers with decimals.</summary>
    Number,

    /// <summary>Local dates.</summary>
    Date,

    /// <summary>Instants.</summary>
    Instant,

    /// <summary>Numbers whose unit depends on the row.</summary>
    Figure,
}

/// <summary>One column of a table.</summary>
/// <param name="Key">Its name for machines.</param>
/// <param name="Title">Its name for people, with the unit.</param>
/// <param name="Kind">What it holds.</param>
/// <param name="Unit">The unit's short name; empty without one.</param>
/// <param name="Definition">What it means.</param>
public sealed record ReportColumn(string Key, string Title, ColumnKind Kind, string Unit, string Definition);

/// <summary>A table that a workbook shows as a sheet and a CSV file holds whole.</summary>
public sealed record ReportTable
{
    /// <summary>Makes a table and checks that its rows fit its columns.</summary>
    /// <exception cref="ArgumentException">A row has another number of cells than there are columns.</exception>
    public ReportTable(
        string key, string title, IReadOnlyList<ReportColumn> columns, IReadOnlyList<IReadOnlyList<Cell>> rows)
    {
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(rows);
        if (rows.Any(row => row.Count != columns.Count))
        {
            throw new ArgumentException("Every row has a cell for every column.", nameof(rows));
        }

        (Key, Title, Columns, Rows) = (key, title, columns, rows);
    }

    /// <summary>The table's name in addresses and file names.</summary>
    public string Key { get; }

    /// <summary>The table's name for people; a sheet's name too, so at most 31 characters.</summary>
    public string Title { get; }

    public IReadOnlyList<ReportColumn> Columns { get; }

    public IReadOnlyList<IReadOnlyList<Cell>> Rows { get; }

    /// <summary>What a reader of the sheet has to know; empty when it needs no word.</summary>
    public string Note { get; init; } = "";

    /// <summary>The same table whose every row says that its data are invented.</summary>
    public ReportTable Noted() => new(
        Key, Title,
        [.. Columns, new ReportColumn("note", "Note", ColumnKind.Text, "", "Says of each row that its data are invented.")],
        [.. Rows.Select(row => (IReadOnlyList<Cell>)[.. row, Cell.Of(ReportFrame.InventedNote)])])
    {
        Note = Note,
    };
}

/// <summary>What stands around the tables of an export.</summary>
/// <param name="Title">What it is: «Season 2026, 1 May to 15 October».</param>
/// <param name="Agency">Who answers for it.</param>
/// <param name="Lead">Sentences that say the main figures.</param>
/// <param name="IsInvented">The data are invented, and every table says so.</param>
public sealed record ReportFrame(string Title, string Agency, IReadOnlyList<string> Lead, bool IsInvented)
{
    public const string InventedNote = "Invented data";
}
