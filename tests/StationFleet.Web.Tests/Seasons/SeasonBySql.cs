using System.Globalization;
using Microsoft.Data.Sqlite;

namespace StationFleet.Web.Tests.Seasons;

/// <summary>
/// A station's season figures from the raw tables alone, by SQL and plain loops of this test: none of the program's queries, roll-ups
/// or formulas. Time is cut at every change, and each piece is asked whether the station was required and down.
/// </summary>
internal sealed class SeasonBySql(SqliteConnection connection, DateOnly first, DateOnly last, TimeZoneInfo zone)
{
    private const double Hour = 3_600_000;

    private readonly long _from = Milliseconds(first, zone);
    private readonly long _end = Milliseconds(last.AddDays(1), zone);

    private sealed record Stay(long From, long? To, int Access)
    {
        public bool Holds(long at) => From <= at && (To is null || at < To);
    }

    private sealed record Told(int Id, long Raised, long? Done, bool IsOpen, List<(long At, bool IsDown)> Steps)
    {
        public bool IsDown(long at) => Steps.LastOrDefault(step => step.At <= at).IsDown;
    }

    private sealed record Piece(long From, long To, bool IsRequired, bool IsDown);

    public Dictionary<string, double?> Of(string code)
    {
        int station = (int)(long)Rows("SELECT id FROM stations WHERE code = ?1", code)[0][0]!;
        long created = (long)Rows("SELECT created FROM stations WHERE id = ?1", station)[0][0]!;
        List<Told> tickets = Tickets(station);
        List<Piece> pieces = Pieces(station, created, tickets);
        Dictionary<string, double?> figures = [];
        Uses(figures, station);
        InService(figures, pieces, tickets);
        figures["reporting_coverage"] = HoursWithData(station, pieces) / figures["required_hours"];
        TicketFigures(figures, tickets);
        TankFigures(figures, station);
        foreach ((string key, string condition) in new[] { ("visit_hours", "1"), ("visit_hours_paid", "hours = 'Paid'"), ("visit_hours_match", "hours = 'Match'"), ("visit_hours_volunteer", "hours = 'Volunteer'") })
        {
            figures[key] = Number($"SELECT coalesce(sum(minutes), 0) / 60.0 FROM service_visits WHERE station_id = {station} AND at >= {_from} AND at < {_end} AND {condition}");
        }

        figures["visits"] = Number($"SELECT count(*) FROM service_visits WHERE station_id = {station} AND at >= {_from} AND at < {_end}");
        string days = $"day >= '{first:yyyy-MM-dd}' AND day <= '{last:yyyy-MM-dd}'";

        string counted = $"FROM count_shifts c WHERE c.station_id = {station} AND c.\"from\" >= {_from} AND c.\"from\" < {_end} AND NOT c.is_struck";
        figures["count_shifts"] = Number($"SELECT nullif(count(*), 0) {counted}");
        figures["uses_per_boat"] = Number($"""
            SELECT sum(uses) * 1.0 / sum(boats) FROM (
                SELECT c.boats_at_station AS boats, (SELECT sum(t.uses) FROM counted_tool_uses t WHERE t.shift_id = c.id) AS uses {counted}) WHERE uses IS NOT NULL
            """);

        // Money is kept in cents, and each entry's worth is rounded to one.
        figures["cost"] = Number($"""
            SELECT sum(cents) / 100.0 FROM (
                SELECT round(minutes * rate_per_hour / 60.0) AS cents FROM time_entries WHERE station_id = {station} AND {days}
                UNION ALL SELECT amount FROM cost_entries WHERE station_id = {station} AND {days})
            """);
        figures["cost_per_use_session"] = figures["cost"] / figures["use_sessions"];
        return figures;
    }

    // What a reading counted since the one before belongs to the time up to it; a counter that fell began again at zero.
    private void Uses(Dictionary<string, double?> figures, int station)
    {
        (long At, long Before, double Rise, double Value)[] steps =
        [
            .. Rows($"""
                SELECT at, before_at, value - before, value FROM (
                    SELECT m.at, m.value, lag(m.at) OVER w AS before_at, lag(m.value) OVER w AS before
                    FROM measurements m JOIN series s ON s.id = m.series_id WHERE s.station_id = {station} AND s.name LIKE 'tools/%/uses'
                    WINDOW w AS (PARTITION BY m.series_id ORDER BY m.at))
                WHERE before IS NOT NULL AND at > {_from} AND at <= {_end}
                """).Select(row => ((long)row[0]!, (long)row[1]!, (double)row[2]!, (double)row[3]!)),
        ];
        figures["uses"] = steps.Sum(step => step.Rise >= 0 ? step.Rise : step.Value);
        figures["uses_on_uncertain_day"] = steps.Where(step => step.Rise > 0 && Day(step.At - 1) != Day(step.Before)).Sum(step => step.Rise);
        figures["counter_restarts"] = steps.Count(step => step.Rise < 0);
        figures["use_sessions"] = steps.Where(step => step.Rise > 0 || (step.Rise < 0 && step.Value > 0)).Select(step => (step.At - 1) / (long)Hour).Distinct().Count();
    }

    private List<Told> Tickets(int station) =>
    [
        .. Rows($"SELECT id, raised, done_at FROM tickets WHERE station_id = {station} AND rule <> 'NewFind' AND raised < {_end} ORDER BY number").Select(row =>
        {
            (int id, long raised) = ((int)(long)row[0]!, (long)row[1]!);
            List<(long At, string Kind)> events =
                [.. Rows($"SELECT at, kind FROM ticket_events WHERE ticket_id = {id} AND kind <> 'Raised' ORDER BY at").Select(happened => ((long)happened[0]!, (string)happened[1]!))];

            // The work was done when the person says, not when the server learnt of it.
            if (row[2] is long done)
            {
                int closing = events.FindLastIndex(happened => happened.Kind == "Closed");
                if (closing >= 0)
                {
                    events.RemoveAt(closing);
                }

                events.Add((Math.Max(done, raised), "Closed"));
            }

            (bool isOpen, bool isOn, long? closed) = (true, true, null);
            List<(long At, bool IsDown)> steps = [(raised, true)];
            foreach ((long at, string kind) in events.OrderBy(happened => happened.At).TakeWhile(happened => happened.At < _end))
            {
                (isOpen, isOn, closed) = kind switch
                {
                    "Closed" => (false, isOn, at),
                    "Reopened" => (true, true, null),
                    "ProblemCleared" => (isOpen, false, closed),
                    "ProblemReturned" => (isOpen, true, closed),
                    _ => (isOpen, isOn, closed),
                };
                steps.Add((at, isOpen && isOn));
            }

            return new Told(id, raised, closed, isOpen, steps);
        }),
    ];

    private List<Piece> Pieces(int station, long created, List<Told> tickets)
    {
        Stay[] stood = Stays($"SELECT \"from\", \"to\", access_id FROM placements WHERE station_id = {station}");
        Stay[] closed = Stays("SELECT \"from\", \"to\", access_id FROM access_closures");
        Stay[] winter = Stays($"SELECT \"from\", \"to\", 0 FROM winter_storages WHERE station_id = {station}");
        long[] cuts =
        [
            .. stood.Concat(closed).Concat(winter).SelectMany(stay => new[] { stay.From, stay.To ?? _end })
                .Concat(tickets.SelectMany(ticket => ticket.Steps.Select(step => step.At))).Append(created)
                .Where(at => at > _from && at < _end).Append(_from).Append(_end).Distinct().Order(),
        ];
        return
        [
            .. cuts.Zip(cuts.Skip(1), (from, to) => new Piece(
                from, to,
                from >= created && !winter.Any(stay => stay.Holds(from))
                    && stood.Any(stay => stay.Holds(from) && !closed.Any(shut => shut.Access == stay.Access && shut.Holds(from))),
                tickets.Any(ticket => ticket.IsDown(from)))),
        ];
    }

    private void InService(Dictionary<string, double?> figures, List<Piece> pieces, List<Told> tickets)
    {
        double required = pieces.Where(piece => piece.IsRequired).Sum(piece => piece.To - piece.From) / Hour;
        double down = pieces.Where(piece => piece is { IsRequired: true, IsDown: true }).Sum(piece => piece.To - piece.From) / Hour;
        List<(long From, long To, double Hours)> stretches = [];
        foreach (Piece piece in pieces.Where(piece => piece.IsDown))
        {
            double hours = piece.IsRequired ? (piece.To - piece.From) / Hour : 0;
            if (stretches.Count > 0 && stretches[^1].To == piece.From)
            {
                stretches[^1] = (stretches[^1].From, piece.To, stretches[^1].Hours + hours);
            }
            else
            {
                stretches.Add((piece.From, piece.To, hours));
            }
        }

        bool wasDown = tickets.Any(ticket => ticket.IsDown(_from - 1));
        (long From, long To, double Hours)[] failures = [.. stretches.Where(stretch => stretch.Hours > 0 && !(wasDown && stretch.From == _from))];
        (long From, long To, double Hours)[] restored = [.. failures.Where(stretch => stretch.To < _end)];
        double[] work =
        [
            .. restored.Select(stretch => tickets.Where(ticket => stretch.From <= ticket.Raised && ticket.Raised < stretch.To)
                .Select(ticket => Number($"SELECT sum(minutes) / 60.0 FROM service_visits WHERE ticket_id = {ticket.Id}")).OfType<double>().ToArray())
                .Where(minutes => minutes.Length > 0).Select(minutes => minutes.Sum()),
        ];
        figures["required_hours"] = required;
        figures["days_in_service"] = required / 24;
        figures["down_hours"] = down;
        figures["availability"] = required > 0 ? 1 - (down / required) : null;
        figures["failures"] = failures.Length;
        figures["mean_hours_between_failures"] = failures.Length > 0 ? (required - down) / failures.Length : null;
        figures["mean_hours_to_restoration"] = restored.Length > 0 ? restored.Average(stretch => stretch.Hours) : null;
        figures["mean_hours_active_repair"] = work.Length > 0 ? work.Average() : null;
        figures["mean_hours_down"] = stretches.Any(stretch => stretch.Hours > 0) ? down / stretches.Count(stretch => stretch.Hours > 0) : null;
    }

    // A day's hours are those of the series that has the most, and no more than were required.
    private double HoursWithData(int station, List<Piece> pieces) => Rows($"""
            SELECT DISTINCT m.series_id, m.at / 3600000 FROM measurements m JOIN series s ON s.id = m.series_id
            WHERE s.station_id = {station} AND m.at >= {_from} AND m.at < {_end}
            """)
        .Select(row => (Series: (long)row[0]!, Day: Day((long)row[1]! * (long)Hour)))
        .GroupBy(row => row.Day)
        .Sum(day =>
        {
            (long from, long to) = (Milliseconds(day.Key, zone), Milliseconds(day.Key.AddDays(1), zone));
            double required = pieces.Where(piece => piece.IsRequired).Sum(piece => Math.Max(0, Math.Min(to, piece.To) - Math.Max(from, piece.From))) / Hour;
            return Math.Min(day.GroupBy(row => row.Series).Max(series => series.Count()), required);
        });

    private void TicketFigures(Dictionary<string, double?> figures, List<Told> tickets)
    {
        double[] hours = [.. tickets.Where(ticket => ticket.Done >= _from).Select(ticket => (ticket.Done!.Value - ticket.Raised) / Hour).Order()];
        figures["tickets_raised"] = tickets.Count(ticket => ticket.Raised >= _from);
        figures["tickets_closed"] = hours.Length;
        figures["tickets_open"] = tickets.Count(ticket => ticket.IsOpen);
        figures["median_hours_to_close"] = hours.Length == 0 ? null : (hours[hours.Length / 2] + hours[(hours.Length - 1) / 2]) / 2;
    }

    // What a person wrote down within six hours of what the sensor saw is the same emptying.
    private void TankFigures(Dictionary<string, double?> figures, int station)
    {
        string counted = $"""
            FROM pump_outs p WHERE station_id = {station} AND at >= {_from} AND at < {_end} AND (source = 'Telemetry' OR NOT EXISTS (
                SELECT 1 FROM pump_outs seen WHERE seen.station_id = p.station_id AND seen.source = 'Telemetry' AND abs(seen.at - p.at) <= 6 * 3600000))
            """;
        figures["pump_outs"] = Number($"SELECT count(*) {counted}");
        double pumped = Number($"SELECT coalesce(sum(litres), 0) {counted}")!.Value;
        figures["litres_pumped_out"] = pumped;

        // Where the sensor gives the share of the capacity, and no calibration changes it, the tank can be read by SQL.
        if (Number($"SELECT count(*) FROM series WHERE station_id = {station} AND name = 'tank/fill'") == 1
            && Number($"SELECT count(*) FROM station_calibrations WHERE station_id = {station}") == 0)
        {
            string level = $"""
                SELECT m.value * (SELECT capacity_litres FROM station_tanks t WHERE t.station_id = {station} AND t."from" <= m.at ORDER BY t."from" DESC LIMIT 1)
                FROM measurements m JOIN series s ON s.id = m.series_id WHERE s.station_id = {station} AND s.name = 'tank/fill' AND m.at
                """;
            double end = Number($"{level} <= {_end} AND m.at >= {_from} ORDER BY m.at DESC LIMIT 1") ?? 0;
            figures["litres_in_tank"] = end;
            double? before = Number($"{level} > {_from - (72 * (long)Hour)} AND m.at <= {_from} ORDER BY m.at DESC LIMIT 1");
            if (before is null && Number($"SELECT min(m.at) FROM measurements m JOIN series s ON s.id = m.series_id WHERE s.station_id = {station} AND s.name = 'tank/fill' AND m.at > {_from}") is { } first)
            {
                before = Number($"{level} <= {Milliseconds(Day((long)first - 1).AddDays(1), zone)} AND m.at >= {first.ToString("0", CultureInfo.InvariantCulture)} ORDER BY m.at DESC LIMIT 1");
            }

            figures["litres_taken_in"] = Math.Max(0, pumped + end - (before ?? 0));
        }
    }

    private Stay[] Stays(string sql) => [.. Rows(sql).Select(row => new Stay((long)row[0]!, row[1] as long?, (int)(long)row[2]!))];

    private DateOnly Day(long at) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(DateTimeOffset.FromUnixTimeMilliseconds(at), zone).DateTime);

    private static long Milliseconds(DateOnly day, TimeZoneInfo zone) =>
        new DateTimeOffset(day.ToDateTime(TimeOnly.MinValue), zone.GetUtcOffset(day.ToDateTime(TimeOnly.MinValue))).ToUnixTimeMilliseconds();

    private double? Number(string sql) => Rows(sql) is [[{ } value, ..], ..] ? Convert.ToDouble(value, CultureInfo.InvariantCulture) : null;

    private List<object?[]> Rows(string sql, object? parameter = null)
    {
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // the text is the test's own
        command.CommandText = sql;
#pragma warning restore CA2100
        if (parameter is not null)
        {
            command.Parameters.AddWithValue("?1", parameter);
        }

        using SqliteDataReader reader = command.ExecuteReader();
        List<object?[]> rows = [];
        while (reader.Read())
        {
            rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(column => reader.IsDBNull(column) ? null : reader.GetValue(column))]);
        }

        return rows;
    }
}
