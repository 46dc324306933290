using Microsoft.Data.Sqlite;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Telemetry;

/// <summary>A roll-up that is not what the raw rows say.</summary>
/// <param name="Station">The station.</param>
/// <param name="Name">The measurement's name.</param>
/// <param name="Day">The local day that it is in.</param>
/// <param name="Hour">The hour's start, or null for a day.</param>
/// <param name="Stored">What the database holds, or null when it lacks the roll-up.</param>
/// <param name="Expected">What the raw rows say, or null when they know nothing of it.</param>
public sealed record RollUpDifference(
    StationId Station, string Name, DateOnly Day, DateTimeOffset? Hour, RollUpFigures? Stored, RollUpFigures? Expected);

/// <summary>
/// Makes all roll-ups of unsealed time anew in memory and compares them with the stored ones, in one moment of the database; writes
/// nothing.
/// </summary>
public sealed class RollUpVerifier(FleetDatabase database)
{
    /// <summary>Compares every roll-up of one station or of all; empty when they are as they must be.</summary>
    public Task<IReadOnlyList<RollUpDifference>> VerifyAsync(StationId? only, CancellationToken cancel) => Task.Run<IReadOnlyList<RollUpDifference>>(
        () =>
        {
            using SqliteConnection connection = database.OpenReader();
            using Statement begin = new(connection, "BEGIN");
            using Statement end = new(connection, "COMMIT");
            begin.Run();
            List<RollUpDifference> differences = [];
            foreach (StationId station in only is { } one ? [one] : Stations(connection))
            {
                cancel.ThrowIfCancellationRequested();
                differences.AddRange(Differences(connection, station));
            }

            end.Run();
            return differences;
        },
        cancel);

    private static List<StationId> Stations(SqliteConnection connection)
    {
        using Statement stations = new(connection, "SELECT DISTINCT station_id FROM series ORDER BY station_id");
        return stations.List(row => new StationId(row.Small(0)));
    }

    private static IEnumerable<RollUpDifference> Differences(SqliteConnection connection, StationId station)
    {
        using SeriesCatalog catalog = new(connection);
        using RawRows raw = new(connection);
        using Statement storedHours = new(
            connection, $"SELECT {RollUpRows.HourColumns}, series_id FROM rollup_hours WHERE station_id = ?1");
        using Statement storedDays = new(
            connection, $"SELECT {RollUpRows.DayColumns}, series_id FROM rollup_days WHERE station_id = ?1");
        ILookup<long, HourRollUp> allHours = storedHours.List(row => (Series: row.Integer(15), Hour: RollUpRows.ReadHour(row)), station.Value)
            .ToLookup(row => row.Series, row => row.Hour);
        ILookup<long, DayRollUp> allDays = storedDays.List(row => (Series: row.Integer(14), Day: RollUpRows.ReadDay(row)), station.Value)
            .ToLookup(row => row.Series, row => row.Day);
        Whereabouts whereabouts = raw.Whereabouts(station);
        UptimeLog uptime = raw.Uptime(catalog.Of(station).GetValueOrDefault(MeasurementName.ControllerUptime), long.MinValue, long.MaxValue);
        using Statement sealedUpTo = new(connection, "SELECT up_to FROM sealed WHERE station_id = ?1");
        long after = sealedUpTo.First<long?>(row => row.Integer(0), station.Value) ?? long.MinValue;
        foreach (Series series in catalog.Of(station).Values)
        {
            // Sealed hours have no raw rows any more; days must still be the sum of their hours.
            HourRollUp[] stored = [.. allHours[series.Id]];
            HourRollUp[] final = [.. stored.Where(hour => hour.Key.Start.ToUnixTimeMilliseconds() < after)];
            HourRollUp[] hours =
            [
                .. final,
                .. HourRollUp.Of(raw.Range(series, after, long.MaxValue), raw.LastTo(series, after), series.Nature, whereabouts, uptime),
            ];
            IEnumerable<DayRollUp> days = hours
                .OrderBy(hour => hour.Key.Start)
                .GroupBy(hour => (hour.Key.Day, hour.Key.Placement))
                .Select(day => DayRollUp.Of([.. day]));
            foreach ((HourKey key, HourRollUp? found, HourRollUp? expected) in Compare(
                stored.ToDictionary(hour => hour.Key), hours.ToDictionary(hour => hour.Key)))
            {
                yield return new RollUpDifference(station, series.Name, key.Day, key.Start, found?.Figures, expected?.Figures);
            }

            foreach (((DateOnly day, _), DayRollUp? found, DayRollUp? expected) in Compare(
                allDays[series.Id].ToDictionary(day => (day.Day, day.Placement)),
                days.ToDictionary(day => (day.Day, day.Placement))))
            {
                yield return new RollUpDifference(station, series.Name, day, null, found?.Figures, expected?.Figures);
            }
        }
    }

    private static IEnumerable<(TKey Key, T? Stored, T? Expected)> Compare<TKey, T>(
        Dictionary<TKey, T> stored, Dictionary<TKey, T> expected)
        where TKey : notnull
        where T : class
    {
        foreach (TKey key in stored.Keys.Union(expected.Keys))
        {
            T? found = stored.GetValueOrDefault(key);
            T? right = expected.GetValueOrDefault(key);
            if (!Equals(found, right))
            {
                yield return (key, found, right);
            }
        }
    }
}
