using System.Globalization;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>The rows of the two roll-up tables.</summary>
internal sealed class RollUpRows(SqliteConnection connection) : IDisposable
{
    internal const string HourColumns =
        "hour_start, day, placement_id, count, min, max, sum, first, first_at, last, last_at, known, across_hours, across_days, uncertain";

    internal const string DayColumns =
        "day, placement_id, count, min, max, sum, first, first_at, last, last_at, known, across_days, uncertain, hours";

    private readonly Statement _putHour = new(
        connection,
        $"""
        INSERT OR REPLACE INTO rollup_hours (station_id, series_id, {HourColumns})
        VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)
        """);

    private readonly Statement _putDay = new(
        connection,
        $"""
        INSERT OR REPLACE INTO rollup_days (station_id, series_id, {DayColumns})
        VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16)
        """);

    private readonly Statement _hoursOfDay = new(
        connection,
        $"""
        SELECT {HourColumns} FROM rollup_hours
        WHERE station_id = ?1 AND hour_start BETWEEN ?2 AND ?3 AND series_id = ?4 AND day = ?5 AND placement_id = ?6 ORDER BY hour_start
        """);

    private readonly Statement _dropHours = new(
        connection,
        """
        DELETE FROM rollup_hours WHERE station_id = ?1 AND hour_start > ?2 AND hour_start < ?3 AND (?4 IS NULL OR series_id = ?4)
        RETURNING series_id, day, placement_id
        """);

    private readonly Statement _dropDay = new(
        connection, "DELETE FROM rollup_days WHERE station_id = ?1 AND day = ?2 AND series_id = ?3 AND placement_id = ?4");

    internal void Put(Series series, HourRollUp hour)
    {
        (HourKey key, RollUpFigures f) = hour;
        _putHour.Run(
            series.Station.Value,
            series.Id,
            key.Start,
            Text(key.Day),
            Milliseconds.Number(key.Placement),
            f.Count,
            f.Min,
            f.Max,
            f.Sum,
            f.First,
            f.FirstAt,
            f.Last,
            f.LastAt,
            f.Known,
            f.AcrossHours,
            f.AcrossDays,
            f.Uncertain);
    }

    /// <summary>The hours of one local day at one placement that start between two instants, both included; ascending.</summary>
    internal List<HourRollUp> HoursOf(Series series, DateOnly day, int placement, long from, long to) =>
        _hoursOfDay.List(ReadHour, series.Station.Value, from, to, series.Id, Text(day), placement);

    /// <summary>Makes one day anew out of its hours; a day that has no hour any more goes.</summary>
    internal void RemakeDay(Series series, DateOnly day, int placement)
    {
        // A local day lies within 14 hours of the same date in UTC, whichever the zone.
        long noon = new DateTimeOffset(day, new TimeOnly(12, 0), TimeSpan.Zero).ToUnixTimeMilliseconds();
        long reach = 28 * Milliseconds.PerHour;
        List<HourRollUp> hours = HoursOf(series, day, placement, noon - reach, noon + reach);
        if (hours.Count == 0)
        {
            _dropDay.Run(series.Station.Value, Text(day), series.Id, placement);
        }
        else
        {
            Put(series, DayRollUp.Of(hours));
        }
    }

    internal void Put(Series series, DayRollUp day)
    {
        RollUpFigures f = day.Figures;
        _putDay.Run(
            series.Station.Value,
            series.Id,
            Text(day.Day),
            Milliseconds.Number(day.Placement),
            f.Count,
            f.Min,
            f.Max,
            f.Sum,
            f.First,
            f.FirstAt,
            f.Last,
            f.LastAt,
            f.Known,
            f.AcrossDays,
            f.Uncertain,
            day.Hours);
    }

    /// <summary>Removes a station's hours that start between two instants, both left out, of one series or of all.</summary>
    /// <returns>The days that they belonged to, by series.</returns>
    internal ILookup<long, (DateOnly Day, int Placement)> DropHours(StationId station, long after, long before, long? onlySeries) =>
        _dropHours.List(row => (Series: row.Integer(0), Day: Day(row.Text(1)), Placement: row.Small(2)), station.Value, after, before, onlySeries)
            .ToLookup(row => row.Series, row => (row.Day, row.Placement));

    public void Dispose()
    {
        _putHour.Dispose();
        _putDay.Dispose();
        _hoursOfDay.Dispose();
        _dropHours.Dispose();
        _dropDay.Dispose();
    }

    internal static string Text(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    internal static DateOnly Day(string text) => DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Reads an hour whose columns start with the hour's own.</summary>
    internal static HourRollUp ReadHour(Row row) => new(
        new HourKey(row.Instant(0), Day(row.Text(1)), Milliseconds.Placement(row.Integer(2))),
        new RollUpFigures(
            row.Small(3),
            row.Real(4),
            row.Real(5),
            row.Real(6),
            row.Real(7),
            row.Instant(8),
            row.Real(9),
            row.Instant(10),
            row.Real(11),
            row.Real(12),
            row.Real(13),
            row.Small(14)));

    /// <summary>Reads a day whose columns start with the day's own.</summary>
    internal static DayRollUp ReadDay(Row row) => new(
        Day(row.Text(0)),
        Milliseconds.Placement(row.Integer(1)),
        new RollUpFigures(
            row.Small(2),
            row.Real(3),
            row.Real(4),
            row.Real(5),
            row.Real(6),
            row.Instant(7),
            row.Real(8),
            row.Instant(9),
            row.Real(10),
            0,
            row.Real(11),
            row.Small(12)),
        row.Small(13));
}
