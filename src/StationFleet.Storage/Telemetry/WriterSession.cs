using Microsoft.Data.Sqlite;
using SQLitePCL;
using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Telemetry;

/// <summary>The writer's connection with its prepared statements; used by one thread at a time.</summary>
internal sealed class WriterSession : IDisposable
{
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
    private readonly Statement _savepoint;
    private readonly Statement _release;
    private readonly Statement _rollbackToSavepoint;
    private readonly Statement _setWrap;

    internal WriterSession(SqliteConnection connection)
    {
        _connection = connection;
        _catalog = new SeriesCatalog(connection);
        _raw = new RawRows(connection);
        _sealed = new SealedTime(connection, _catalog, _raw);
        _rollUpRows = new RollUpRows(connection);
        _reports = new ReportStore(connection, _catalog, _sealed);
        _rollUps = new RollUpUpdater(_catalog, _raw, _sealed, _rollUpRows);
        _begin = new Statement(connection, "BEGIN IMMEDIATE");
        _commit = new Statement(connection, "COMMIT");
        _rollback = new Statement(connection, "ROLLBACK");
        _savepoint = new Statement(connection, "SAVEPOINT report");
        _release = new Statement(connection, "RELEASE report");
        _rollbackToSavepoint = new Statement(connection, "ROLLBACK TO report");
        _setWrap = new Statement(
            connection, "UPDATE series SET wraps_at = ?2 WHERE id = ?1");
    }

    /// <summary>Writes reports in one transaction, each in a savepoint of its own.</summary>
    /// <returns>For each report what became of it, or why it alone failed. If this throws, nothing is written.</returns>
    internal IReadOnlyList<(ReportReceipt? Receipt, Exception? Failure)> Write(IReadOnlyList<ReportToStore> reports)
    {
        (ReportReceipt?, Exception?)[] results = new (ReportReceipt?, Exception?)[reports.Count];
        InTransaction([.. reports.Select(report => report.Station)], () =>
        {
            List<(StationId Station, long SeriesId, long At)> touched = [];
            for (int i = 0; i < reports.Count; i++)
            {
                results[i] = WriteOne(reports[i], touched);
            }

            _rollUps.Update(touched);
        });
        return results;
    }

    /// <summary>Writes a report and takes it back: nothing stays.</summary>
    internal ReportReceipt Try(ReportToStore report)
    {
        _begin.Run();
        try
        {
            return _reports.Store(report, []);
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

    internal void DeclareWrap(StationId station, string name, double? wrapsAt) => InTransaction([station], () =>
    {
        Series series = _catalog.FindOrAdd(station, name)
            ?? throw new InvalidOperationException($"The station already has {SeriesCatalog.MostPerStation} series.");
        _setWrap.Run(series.Id, wrapsAt);
        _catalog.Forget(station);
        long always = DateTimeOffset.MaxValue.ToUnixTimeMilliseconds();
        _rollUps.Rebuild(station, -always, always, candidate => candidate.Id == series.Id);
    });

    internal bool Seal(StationId station, long upTo)
    {
        bool isSealed = false;
        InTransaction([station], () => isSealed = _sealed.Seal(station, upTo));
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
        Statement[] statements = [_begin, _commit, _rollback, _savepoint, _release, _rollbackToSavepoint, _setWrap];
        foreach (IDisposable part in statements.Concat<IDisposable>([_reports, _rollUpRows, _sealed, _raw, _catalog, _connection]))
        {
            part.Dispose();
        }
    }

    private (ReportReceipt? Receipt, Exception? Failure) WriteOne(ReportToStore report, List<(StationId Station, long SeriesId, long At)> touched)
    {
        int before = touched.Count;
        _savepoint.Run();
        try
        {
            ReportReceipt receipt = _reports.Store(report, touched);
            _release.Run();
            return (receipt, null);
        }
        catch (Exception failure) when (InsideTransaction && !ConcernsAll(failure))
        {
            _rollbackToSavepoint.Run();
            _release.Run();
            touched.RemoveRange(before, touched.Count - before);
            _catalog.Forget(report.Station);
            return (null, failure);
        }
    }

    private void InTransaction(IReadOnlyList<StationId> stations, Action work)
    {
        _begin.Run();
        try
        {
            work();
            _commit.Run();
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

            throw;
        }
    }

    private bool InsideTransaction => raw.sqlite3_get_autocommit(_connection.Handle) == 0;

    private static bool ConcernsAll(Exception failure) =>
        failure is SqliteException { SqliteErrorCode: raw.SQLITE_FULL or raw.SQLITE_BUSY or raw.SQLITE_LOCKED or raw.SQLITE_IOERR };
}
