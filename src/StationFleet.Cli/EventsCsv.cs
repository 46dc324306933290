using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Cli;

/// <summary>What people did in a recorded season: <c>events.csv</c>, with the columns that docs/command-line.md explains.</summary>
internal static class EventsCsv
{
    public const string FileName = "events.csv";
    private static readonly TimeSpan UsualVisit = TimeSpan.FromMinutes(30);
    private static readonly string[] Columns = ["at", "station", "event", "until", "rule", "part", "outcome", "note"];

    /// <summary>Reads the events by station.</summary>
    /// <exception cref="LongCsvException">A line cannot be read.</exception>
    public static ILookup<string, TrialEvent> Read(string path)
    {
        List<(string Station, TrialEvent Event)> events = [];
        string[] names = [];
        int number = 0;
        foreach (string line in File.ReadLines(path))
        {
            number++;
            string[] cells = [.. line.TrimStart('\uFEFF').Split(',', number == 1 ? int.MaxValue : names.Length).Select(cell => cell.Trim().Trim('"'))];
            if (number == 1)
            {
                names = [.. cells.Select(cell => cell.ToLowerInvariant())];
                if (names.Except(Columns).FirstOrDefault() is { } unknown)
                {
                    throw new LongCsvException($"{path} has a column '{unknown}'; known are {string.Join(", ", Columns)}.");
                }

                if (Columns[..3].Except(names).FirstOrDefault() is { } missing)
                {
                    throw new LongCsvException($"{path} lacks the column '{missing}'.");
                }
            }
            else if (line.Length > 0)
            {
                Row row = new(names, cells, $"{path}, line {number}");
                events.Add((row.Wanted("station"), Event(row)));
            }
        }

        return events.OrderBy(one => one.Event.At).ToLookup(one => one.Station, one => one.Event, StringComparer.OrdinalIgnoreCase);
    }

    private static TrialEvent Event(Row row)
    {
        DateTimeOffset at = row.Instant("at") ?? throw row.Fault("a time 'at' is wanted");
        DateTimeOffset? until = row.Instant("until");
        if (until <= at)
        {
            throw row.Fault("'until' does not lie after 'at'");
        }

        return row.Wanted("event") switch
        {
            "ticket-taken" => new TrialEvent.TicketTaken(at, row.Rule(), row["part"]),
            "ticket-closed" => new TrialEvent.TicketClosed(at, row.Rule(), row["part"], row.Outcome()),
            "visit" or "pump-out" or "panel-cleaned" => new TrialEvent.Visited(at, until ?? at + UsualVisit),
            "access-closed" => new TrialEvent.NotRequired(at, until, QuietReason.AccessClosed),
            "winterized" => new TrialEvent.NotRequired(at, until, QuietReason.Winterized),
            "in-transit" => new TrialEvent.NotRequired(at, until, QuietReason.InTransit),
            var other => throw row.Fault(
                $"'{other}' is no event; known are ticket-taken, ticket-closed, visit, pump-out, panel-cleaned, access-closed, winterized, in-transit"),
        };
    }

    private sealed record Row(string[] Names, string[] Cells, string Place)
    {
        public string this[string name] => Array.IndexOf(Names, name) is var i && i >= 0 && i < Cells.Length ? Cells[i] : "";

        public string Wanted(string name) => this[name] is { Length: > 0 } text ? text : throw Fault($"the value '{name}' is wanted");

        public LongCsvException Fault(string what) => new($"{Place}: {what}.");

        public DateTimeOffset? Instant(string name) =>
            this[name] is not { Length: > 0 } text ? null
            : Rfc3339.TryParse(text, out DateTimeOffset at) ? at
            : throw Fault($"'{text}' is no RFC 3339 time such as 2026-07-08T13:05:00Z");

        public Rule Rule() => Find<Rule>("rule");

        public TicketOutcome Outcome() => Find<TicketOutcome>("outcome");

        // «idleTool», «IdleTool» and «Idle tool» are one name.
        private T Find<T>(string column)
            where T : struct, Enum
        {
            string text = Wanted(column);
            string letters = string.Concat(text.Where(char.IsLetter));
            return Enum.TryParse(letters, ignoreCase: true, out T value)
                ? value
                : throw Fault($"'{text}' is no {column}; known are {string.Join(", ", Enum.GetNames<T>())}");
        }
    }
}
