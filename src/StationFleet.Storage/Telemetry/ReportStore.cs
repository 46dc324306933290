using System.Globalization;
using Microsoft.Data.Sqlite;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry;

/// <summary>Writes one report's rows; the caller holds the transaction.</summary>
internal sealed class ReportStore(SqliteConnection connection, SeriesCatalog catalog, SealedTime sealedTime) : IDisposable
{
    private readonly Statement _addReport = new(
        connection,
        """
        INSERT INTO reports (id, station_id, received, source, accepted, repeated, set_aside)
        SELECT ?3, id, ?2, ?4, 0, 0, 0 FROM stations WHERE id = ?1 RETURNING id
        """);

    private readonly Statement _countReport = new(
        connection, "UPDATE reports SET oldest_at = ?2, newest_at = ?3, clock_off = ?4, accepted = ?5, repeated = ?6, set_aside = ?7, update_within = ?8 WHERE id = ?1");

    private readonly Statement _add = new(
        connection, "INSERT INTO measurements (series_id, at, value, report_id) VALUES (?1, ?2, ?3, ?4) ON CONFLICT DO NOTHING");

    private readonly Statement _known = new(
        connection, "SELECT value FROM measurements WHERE series_id = ?1 AND at = ?2");

    private readonly SetAsideRows _setAside = new(connection);

    private readonly Statement _heard = new(
        connection, "INSERT INTO last_heard (station_id, at) VALUES (?1, ?2) ON CONFLICT (station_id) DO UPDATE SET at = max(at, excluded.at)");

    /// <summary>Writes the rows of a report.</summary>
    /// <param name="report">The report.</param>
    /// <param name="added">Gets each new measurement.</param>
    internal ReportReceipt Store(ReportToStore report, NewReadings added)
    {
        long received = report.Received.ToUnixTimeMilliseconds();
        long id = _addReport.First(row => row.Integer(0), report.Station.Value, received, report.PastId, report.Source.ToString());
        if (id == 0)
        {
            throw new InvalidOperationException($"There is no station {report.Station.Value}.");
        }

        List<SetAsideRecord> setAside = [.. report.SetAside];
        List<int> repeated = [];
        int accepted = 0;
        (long? oldest, long? newest) = (null, null);
        foreach (IndexedMeasurement row in report.Measurements)
        {
            (bool isKnown, SetAsideRecord? refused) = Add(report, id, row, added);
            if (isKnown)
            {
                repeated.Add(row.Index);
            }
            else if (refused is not null)
            {
                setAside.Add(refused);
            }
            else
            {
                accepted++;
                long at = row.Measurement.At.ToUnixTimeMilliseconds();
                (oldest, newest) = (Math.Min(oldest ?? at, at), Math.Max(newest ?? at, at));
            }
        }

        if (report.TriedAgain is { } triedAgain)
        {
            _setAside.Settle(report.Station, triedAgain, setAside);
        }
        else
        {
            _setAside.Keep(report.Station, id, received, setAside);
        }

        _countReport.Run(id, oldest, newest, (long?)report.ClockOff?.TotalMilliseconds, accepted, repeated.Count, setAside.Count, (long?)report.UpdateWithin?.TotalMilliseconds);
        if (report.Source == ReportSource.Station)
        {
            _heard.Run(report.Station.Value, received);
        }

        return new ReportReceipt(id, accepted, repeated.Count, setAside)
        {
            RepeatedIndices = repeated,
            OldestAt = oldest is { } first ? Milliseconds.Instant(first) : null,
            NewestAt = newest is { } last ? Milliseconds.Instant(last) : null,
        };
    }

    /// <summary>Throws records that were set aside away for good.</summary>
    /// <returns>How many there were.</returns>
    internal int Discard(SetAsideChoice choice) => _setAside.Discard(choice);

    public void Dispose()
    {
        _addReport.Dispose();
        _countReport.Dispose();
        _add.Dispose();
        _known.Dispose();
        _setAside.Dispose();
        _heard.Dispose();
    }

    /// <returns>Whether the measurement was known, and the record when it must be set aside; neither when it is new.</returns>
    private (bool IsKnown, SetAsideRecord? Refused) Add(ReportToStore report, long reportId, IndexedMeasurement row, NewReadings added)
    {
        string name = row.Measurement.Name;
        long at = row.Measurement.At.ToUnixTimeMilliseconds();
        if (at <= sealedTime.UpTo(report.Station))
        {
            bool isKept = catalog.Of(report.Station).TryGetValue(name, out Series? old)
                && _known.First<double?>(found => found.Real(0), old.Id, at) == row.Measurement.Value;
            string final = SealedTime.TooLate(Milliseconds.Instant(sealedTime.UpTo(report.Station)));
            return (isKept, isKept ? null : new SetAsideRecord(row.Index, final, row.Raw, SetAsideKind.Final));
        }

        if (catalog.FindOrAdd(report.Station, name) is not { } series)
        {
            string full = string.Create(
                CultureInfo.InvariantCulture,
                $"The station already has {SeriesCatalog.MostPerStation} series, the most it may have; {name} would be one more.");
            return (false, new SetAsideRecord(row.Index, full, row.Raw, SetAsideKind.TooManySeries));
        }

        if (_add.Run(series.Id, at, row.Measurement.Value, reportId) == 1)
        {
            added.Add(series, new Reading(row.Measurement.At, row.Measurement.Value));
            return (false, null);
        }

        double known = _known.First(found => found.Real(0), series.Id, at);
        if (known == row.Measurement.Value)
        {
            return (true, null);
        }

        string other = string.Create(CultureInfo.InvariantCulture, $"The value {known} is already known for {name} at this time; the first one stays.");
        return (false, new SetAsideRecord(row.Index, other, row.Raw, SetAsideKind.OtherValue));
    }
}
