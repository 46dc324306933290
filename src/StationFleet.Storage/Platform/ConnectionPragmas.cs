using System.Data.Common;
using System.Globalization;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace StationFleet.Storage.Platform;

/// <summary>What must be set on each connection, since SQLite keeps it per connection.</summary>
internal sealed class ConnectionPragmas : DbConnectionInterceptor
{
    internal const int BusySeconds = 5;

    // FULL: a report answered with 200 survives a power cut.
    private static readonly string Sql = string.Create(
        CultureInfo.InvariantCulture,
        $"PRAGMA busy_timeout = {BusySeconds * 1000}; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;");

    internal static ConnectionPragmas Instance { get; } = new();

    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) => Apply(connection);

    public override async Task ConnectionOpenedAsync(
        DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
    {
        await using DbCommand command = connection.CreateCommand();
        command.CommandText = Sql;
        await command.ExecuteNonQueryAsync(cancellationToken);
    }

    internal static void Apply(DbConnection connection, string more = "")
    {
        using DbCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // constants of this assembly and its tests; no input reaches here
        command.CommandText = Sql + more;
#pragma warning restore CA2100
        command.ExecuteNonQuery();
    }
}
