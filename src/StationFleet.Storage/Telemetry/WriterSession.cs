using Microsoft.Data.Sqlite;
using SQLitePCL;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Telemetry;

/// <summary>The writer's connection with its prepared statements; used by one thread at a time.</summary>
internal sealed class WriterSession : IDisposable
{
    private static readonly TimeSpan PutOffFor = TimeSpan.FromSeconds(1);

    private readonly SqliteConnection _connection;
    private readonly SeriesCatalog _catalog;
    private readonly RawRows _raw;
    private readonly SealedTime _sealed;
    private readonly RollUpRows _rollUpRows;
    private readonly ReportStore _reports;
    private readonly RollUpUpdater _rollUps;
    private readonly Statement _begin;
    private readonly Statement _commit;
    private readonly Statement _rollback;
    private readonly Statement _version;
    private readonly RollUpMark _mark;
    private long _seenVersion;
    private long _lastReport;
    private long _writtenAt = TimeProvider.System.GetTimestamp();

    // After a start or a failure the roll-ups may lack what was put off.
    private bool _mayLack = true;

    internal WriterSession(SqliteConnection connection)
    {
        _connection = connection;
        _catalog = new SeriesCatalog(connection);
        _raw = new RawRows(connection);
        _sealed = new SealedTime(connection, _catalog, _raw);
        _rollUpRows = new RollUpRows(connection);
        _reports = new ReportStore(connection, _catalog, _sealed);
        _rollUps = new RollUpUpdater(_catalog, _raw, _sealed, _rollUpRows);
        _mark = new RollUpMark(connection, _catalog);
        _begin = new Statement(connection, "BEGIN IMMEDIATE");
        _commit = new Statement(connection, "COMMIT");
        _rollback = new Statement(connection, "ROLLBACK");
        _version = new Statement(connection, "PRAGMA data_version");
    }

    /// <summary>Writes reports in one transaction.</summary>
    /// <param name="reports">The reports.</param>
    /// <param name="moreWaits">
    /// Asked at the end: whether the next call comes at once. Then the roll-ups may be written with it, since the same rows would be
    /// written again. After a second they are written all the same, and after a crash they are caught up at the start.
    /// </param>
    /// <returns>For each report what became of it. If this throws, nothing is written.</returns>
    internal IReadOnlyList<ReportReceipt> Write(IReadOnlyList<ReportToStore> reports, Func<bool> moreWaits)
    {
        ReportReceipt[] receipts = new ReportReceipt[reports.Count];
        InTransaction([.. reports.Select(report => report.Station)], () =>
        {
            NewReadings added = new();
            for (int i = 0; i < reports.Count; i++)
            {
                receipts[i] = _reports.Store(reports[i], added);
            }

            _rollUps.Update(added);
            _lastReport = Math.Max(_lastReport, receipts.Max(receipt => receipt.ReportId));
            bool isPast = reports.Any(report => report.PastId is not null); // the mark does not know those
            if (!moreWaits() || isPast || TimeProvider.System.GetElapsedTime(_writtenAt) > PutOffFor)
            {
                WriteRollUps();
            }
        });
        return receipts;
    }

    /// <summary>Writes the roll-ups that an earlier run had put off.</summary>
    internal void CatchUp()
    {
        if (_mark.Later() is not null)
        {
            InTransaction([], () => { });
        }
    }

    /// <summary>Writes a report and takes it back: nothing stays.</summary>
    internal ReportReceipt Try(ReportToStore report)
    {
        _begin.Run();
        try
        {
            return _reports.Store(report, new NewReadings());
        }
        finally
        {
            if (InsideTransaction)
            {
                _rollback.Run();
            }

            _catalog.Forget(report.Station);
        }
    }

    internal int Discard(SetAsideChoice choice)
    {
        int discarded = 0;
        InTransaction([], () => discarded = _reports.Discard(choice));
        return discarded;
    }

    internal void Rebuild(StationId station, long from, long to) =>
        InTransaction([station], () => _rollUps.Rebuild(station, from, to));

    internal void Recount(StationId station, string name) => InTransaction([station], () =>
    {
        if (_catalog.Of(station).TryGetValue(name, out Series? series))
        {
            long always = DateTimeOffset.MaxValue.ToUnixTimeMilliseconds();
            _rollUps.Rebuild(station, -always, always, series.Id);
        }
    });

    internal bool Seal(StationId station, long upTo)
    {
        bool isSealed = false;
        InTransaction([station], () =>
        {
            WriteRollUps(); // what was put off may be of that time
            isSealed = _sealed.Seal(station, upTo);
        });
        return isSealed;
    }

    internal int Purge(StationId station, int most)
    {
        int purged = 0;
        InTransaction([station], () => purged = _sealed.Purge(station, most));
        return purged;
    }

    public void Dispose()
    {
        Statement[] statements = [_begin, _commit, _rollback, _version];
        foreach (IDisposable part in statements.Concat<IDisposable>([_mark, _reports, _rollUpRows, _sealed, _raw, _catalog, _connection]))
        {
            part.Dispose();
        }
    }

    private void InTransaction(IReadOnlyList<StationId> stations, Action work)
    {
        _begin.Run();
        try
        {
            ForgetIfOthersWrote();
            if (_mayLack && _mark.Later() is var (readings, last))
            {
                _rollUps.MakeAnew(readings);
                _mark.MoveTo(last);
            }

            work();
            _commit.Run();
            _mayLack = false;
        }
        catch
        {
            // A full disk has made SQLite roll back by itself.
            if (InsideTransaction)
            {
                _rollback.Run();
            }

            foreach (StationId station in stations)
            {
                _catalog.Forget(station);
                _sealed.Forget(station);
            }

            _rollUps.Forget();
            _mayLack = true;
            throw;
        }
    }

    // Placements, time zones and tools are edited on other connections; what is remembered holds until one of them commits.
    private void ForgetIfOthersWrote()
    {
        long version = _version.First(row => row.Integer(0));
        if (version != _seenVersion)
        {
            _rollUps.Flush();
            _rollUps.Forget();
            _catalog.ForgetAll();
            _seenVersion = version;
        }
    }

    private void WriteRollUps()
    {
        _rollUps.Flush();
        _mark.MoveTo(_lastReport);
        _writtenAt = TimeProvider.System.GetTimestamp();
    }

    private bool InsideTransaction => raw.sqlite3_get_autocommit(_connection.Handle) == 0;
}
