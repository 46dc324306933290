using Microsoft.Data.Sqlite;

namespace StationFleet.Storage.Telemetry;

/// <summary>A prepared statement with parameters $1, $2 …; made once per connection and used again and again.</summary>
internal sealed class Statement : IDisposable
{
    private readonly SqliteCommand _command;

    internal Statement(SqliteConnection connection, string sql, params SqliteType[] parameters)
    {
        _command = connection.CreateCommand();
#pragma warning disable CA2100 // only constants of this assembly reach here; values are parameters
        _command.CommandText = sql;
#pragma warning restore CA2100
        for (int i = 0; i < parameters.Length; i++)
        {
            _command.Parameters.Add(new SqliteParameter($"${i + 1}", parameters[i]));
        }

        _command.Prepare();
    }

    internal int Run(params ReadOnlySpan<object> values) => Bind(values).ExecuteNonQuery();

    internal object? Scalar(params ReadOnlySpan<object> values) => Bind(values).ExecuteScalar();

    internal SqliteDataReader Read(params ReadOnlySpan<object> values) => Bind(values).ExecuteReader();

    internal List<T> List<T>(Func<SqliteDataReader, T> row, params ReadOnlySpan<object> values)
    {
        List<T> rows = [];
        using SqliteDataReader reader = Bind(values).ExecuteReader();
        while (reader.Read())
        {
            rows.Add(row(reader));
        }

        return rows;
    }

    public void Dispose() => _command.Dispose();

    private SqliteCommand Bind(ReadOnlySpan<object> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            _command.Parameters[i].Value = values[i];
        }

        return _command;
    }
}
