using System.Globalization;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Cli;

/// <summary>Where each column of a long CSV file stands; -1: nowhere.</summary>
internal sealed record LongCsvColumns(int Count, int Received, int At, int Name, int Unit, int Value, int Station)
{
    public static LongCsvColumns Of(string? header, string path, string wanted)
    {
        List<string> names = [.. (header ?? "").TrimStart('\uFEFF').Split(',').Select(name => name.Trim().Trim('"').ToLowerInvariant())];
        int Place(string name) => names.IndexOf(name);
        LongCsvColumns columns = new(
            names.Count, Place("received"), Place("at"), Place("name"), Place("unit"), Place("value"), Place("station"));
        return columns is { At: >= 0, Name: >= 0, Value: >= 0, Unit: >= 0 }
            ? columns
            : throw new LongCsvException($"{path} does not begin with {wanted}.");
    }
}

/// <summary>Reads the lines of one file. A season has some 400 000 of them, so names are kept once and times are read by hand.</summary>
internal sealed class LongCsvReader(string path, LongCsvColumns columns)
{
    private readonly Dictionary<string, string> _texts = [];
    private readonly Range[] _cells = new Range[16];
    private int _number = 1;

    public LongCsvLine? Read(string text)
    {
        _number++;
        ReadOnlySpan<char> line = text;
        if (line.IsWhiteSpace())
        {
            return null;
        }

        int count = line.Split(_cells, ',');
        if (count != columns.Count)
        {
            throw new LongCsvException($"{path}, line {_number}: {columns.Count} values are wanted, but there are {count}.");
        }

        DateTimeOffset? received = columns.Received >= 0 && !Cell(line, columns.Received).IsEmpty ? Instant(Cell(line, columns.Received)) : null;
        DateTimeOffset at = Instant(Cell(line, columns.At));
        string name = Text(Cell(line, columns.Name));
        if (name.Length == 0
            || !double.TryParse(Cell(line, columns.Value), NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
            || !double.IsFinite(value))
        {
            throw new LongCsvException($"{path}, line {_number}: a name and a finite number are wanted.");
        }

        string unit = Text(Cell(line, columns.Unit));
        string? station = columns.Station >= 0 ? Text(Cell(line, columns.Station)) : null;
        return new LongCsvLine(received, new Measurement(name, at, value), unit, station);
    }

    /// <summary>When a line was received (else measured), without reading the rest of it; null for an empty line.</summary>
    public DateTimeOffset? ReceivedAt(string text)
    {
        _number++;
        ReadOnlySpan<char> line = text;
        int column = columns.Received >= 0 ? columns.Received : columns.At;
        if (line.IsWhiteSpace() || line.Split(_cells, ',') <= column)
        {
            return null;
        }

        ReadOnlySpan<char> cell = Cell(line, column);
        return Instant(cell.IsEmpty ? Cell(line, columns.At) : cell);
    }

    private ReadOnlySpan<char> Cell(ReadOnlySpan<char> line, int column) => line[_cells[column]].Trim().Trim('"');

    private string Text(ReadOnlySpan<char> cell)
    {
        Dictionary<string, string>.AlternateLookup<ReadOnlySpan<char>> texts = _texts.GetAlternateLookup<ReadOnlySpan<char>>();
        if (!texts.TryGetValue(cell, out string? known))
        {
            known = cell.ToString();
            _texts[known] = known;
        }

        return known;
    }

    private DateTimeOffset Instant(ReadOnlySpan<char> cell)
    {
        if (Rfc3339.TryParse(cell, out DateTimeOffset at))
        {
            return at;
        }

        throw new LongCsvException($"{path}, line {_number}: '{cell}' is no RFC 3339 time such as 2026-07-08T13:05:00Z.");
    }
}
