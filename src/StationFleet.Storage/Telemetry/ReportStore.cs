using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>Writes one report's rows; the caller holds the transaction.</summary>
internal sealed class ReportStore(SqliteConnection connection, SeriesCatalog catalog) : IDisposable
{
    private readonly Statement _addReport = new(
        connection,
        "INSERT INTO reports (id, station_id, received, accepted, repeated, set_aside) VALUES (?3, ?1, ?2, 0, 0, 0) RETURNING id");

    private readonly Statement _countReport = new(
        connection, "UPDATE reports SET oldest_at = ?2, newest_at = ?3, accepted = ?4, repeated = ?5, set_aside = ?6 WHERE id = ?1");

    private readonly Statement _add = new(
        connection, "INSERT INTO measurements (series_id, at, value, report_id) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING");

    private readonly Statement _known = new(
        connection, "SELECT value FROM measurements WHERE series_id = ?1 AND at = ?2");

    private readonly Statement _setAside = new(
        connection,
        """
        INSERT INTO set_aside (station_id, digest, report_id, received, record_index, reason, raw)
        VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) ON CONFLICT (station_id, digest) DO NOTHING
        """);

    private readonly Statement _heard = new(
        connection, "INSERT INTO last_heard (station_id, at) VALUES (?1, ?2) ON CONFLICT (station_id) DO UPDATE SET at = max(at, excluded.at)");

    /// <summary>Writes the rows of a report.</summary>
    /// <param name="report">The report.</param>
    /// <param name="added">Gets each new measurement.</param>
    internal ReportReceipt Store(ReportToStore report, NewReadings added)
    {
        long received = report.Received.ToUnixTimeMilliseconds();
        long id = _addReport.First(row => row.Integer(0), report.Station.Value, received, report.PastId);
        List<SetAsideRecord> setAside = [.. report.SetAside];
        (int accepted, int repeated) = (0, 0);
        (long oldest, long newest) = (long.MaxValue, long.MinValue);
        foreach (IndexedMeasurement row in report.Measurements)
        {
            switch (Add(report, id, row, added))
            {
                case null:
                    accepted++;
                    long at = row.Measurement.At.ToUnixTimeMilliseconds();
                    (oldest, newest) = (Math.Min(oldest, at), Math.Max(newest, at));
                    break;
                case "":
                    repeated++;
                    break;
                case { } reason:
                    setAside.Add(new SetAsideRecord(row.Index, reason, row.Raw));
                    break;
            }
        }

        foreach (SetAsideRecord record in setAside)
        {
            byte[] digest = SHA256.HashData(Encoding.UTF8.GetBytes(record.Raw));
            _setAside.Run(report.Station.Value, digest, id, received, record.Index, record.Reason, record.Raw);
        }

        _countReport.Run(
            id,
            accepted == 0 ? default(Value) : oldest,
            accepted == 0 ? default(Value) : newest,
            accepted,
            repeated,
            setAside.Count);
        _heard.Run(report.Station.Value, received);
        return new ReportReceipt(id, accepted, repeated, setAside);
    }

    public void Dispose()
    {
        _addReport.Dispose();
        _countReport.Dispose();
        _add.Dispose();
        _known.Dispose();
        _setAside.Dispose();
        _heard.Dispose();
    }

    /// <returns>Null when the measurement is new, empty when it is known, else why it must be set aside.</returns>
    private string? Add(ReportToStore report, long reportId, IndexedMeasurement row, NewReadings added)
    {
        if (catalog.FindOrAdd(report.Station, row.Measurement.Name) is not { } series)
        {
            return string.Create(
                CultureInfo.InvariantCulture,
                $"The station already has {SeriesCatalog.MostPerStation} series, the most it may have; {row.Measurement.Name} would be one more.");
        }

        long at = row.Measurement.At.ToUnixTimeMilliseconds();
        if (_add.Run(series.Id, at, row.Measurement.Value, reportId) == 1)
        {
            added.Add(series, new Reading(row.Measurement.At, row.Measurement.Value));
            return null;
        }

        double known = _known.First(found => found.Real(0), series.Id, at);
        return known == row.Measurement.Value
            ? ""
            : string.Create(
                CultureInfo.InvariantCulture,
                $"The value {known} is already known for {row.Measurement.Name} at this time; the first one stays.");
    }
}
