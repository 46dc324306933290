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
    private readonly RollUpRows _rollUpRows;
    private readonly ReportStore _reports;
    private readonly RollUpUpdater _rollUps;
    private readonly Statement _begin;
    private readonly Statement _commit;
    private readonly Statement _rollback;
    private readonly Statement _version;
    private long _seenVersion;

    internal WriterSession(SqliteConnection connection)
    {
        _connection = connection;
        _catalog = new SeriesCatalog(connection);
        _raw = new RawRows(connection);
        _rollUpRows = new RollUpRows(connection);
        _reports = new ReportStore(connection, _catalog);
        _rollUps = new RollUpUpdater(_catalog, _raw, _rollUpRows);
        _begin = new Statement(connection, "BEGIN IMMEDIATE");
        _commit = new Statement(connection, "COMMIT");
        _rollback = new Statement(connection, "ROLLBACK");
        _version = new Statement(connection, "PRAGMA data_version");
    }

    /// <summary>Writes reports in one transaction.</summary>
    /// <returns>For each report what became of it. If this throws, nothing is written.</returns>
    internal IReadOnlyList<ReportReceipt> Write(IReadOnlyList<ReportToStore> reports)
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
        });
        return receipts;
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

    public void Dispose()
    {
        Statement[] statements = [_begin, _commit, _rollback, _version];
        foreach (IDisposable part in statements.Concat<IDisposable>([_reports, _rollUpRows, _raw, _catalog, _connection]))
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
            }

            _rollUps.Forget();
            throw;
        }
    }

    // Placements, time zones and tools are edited on other connections; what is remembered holds until one of them commits.
    private void ForgetIfOthersWrote()
    {
        long version = _version.First(row => row.Integer(0));
        if (version != _seenVersion)
        {
            _catalog.ForgetAll();
            _rollUps.Forget();
            _seenVersion = version;
        }
    }

    private bool InsideTransaction => raw.sqlite3_get_autocommit(_connection.Handle) == 0;
}
