using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace StationFleet.Storage.Telemetry;

/// <summary>
/// A prepared statement with parameters ?1, ?2 …; made once per connection and used again and again. It speaks to the engine
/// itself: the provider looks each parameter up by name each time, which costs more than the insert.
/// </summary>
internal sealed class Statement : IDisposable
{
    private readonly sqlite3 _database;
    private readonly sqlite3_stmt _statement;

    internal Statement(SqliteConnection connection, string sql)
    {
        _database = connection.Handle!;
        Check(raw.sqlite3_prepare_v3(_database, sql, raw.SQLITE_PREPARE_PERSISTENT, out _statement));
    }

    /// <summary>Runs it and tells how many rows it changed.</summary>
    internal int Run(params ReadOnlySpan<Value> values)
    {
        try
        {
            Bind(values);
            while (Step())
            {
            }

            return raw.sqlite3_changes(_database);
        }
        finally
        {
            Reset();
        }
    }

    /// <summary>Runs it and reads its first row; the default when there is none.</summary>
    internal T? First<T>(Func<Row, T> read, params ReadOnlySpan<Value> values)
    {
        try
        {
            Bind(values);
            T? first = Step() ? read(new Row(_statement)) : default;
            while (first is not null && Step())
            {
            }

            return first;
        }
        finally
        {
            Reset();
        }
    }

    /// <summary>Runs it and reads all its rows.</summary>
    internal List<T> List<T>(Func<Row, T> read, params ReadOnlySpan<Value> values)
    {
        try
        {
            Bind(values);
            List<T> rows = [];
            while (Step())
            {
                rows.Add(read(new Row(_statement)));
            }

            return rows;
        }
        finally
        {
            Reset();
        }
    }

    public void Dispose() => _statement.Dispose();

    private void Bind(ReadOnlySpan<Value> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            Check(values[i].BindTo(_statement, i + 1));
        }
    }

    private bool Step()
    {
        int code = raw.sqlite3_step(_statement);
        if (code is raw.SQLITE_ROW or raw.SQLITE_DONE)
        {
            return code == raw.SQLITE_ROW;
        }

        Check(code);
        return false;
    }

    // Its result is that of the last step, which has been judged.
    private void Reset() => _ = raw.sqlite3_reset(_statement);

    private void Check(int code) => SqliteException.ThrowExceptionForRC(code, _database);
}

/// <summary>One row of an answer, valid until the next.</summary>
internal readonly struct Row(sqlite3_stmt statement)
{
    internal long Integer(int column) => raw.sqlite3_column_int64(statement, column);

    internal int Small(int column) => raw.sqlite3_column_int(statement, column);

    internal double Real(int column) => raw.sqlite3_column_double(statement, column);

    internal string Text(int column) => raw.sqlite3_column_text(statement, column).utf8_to_string();

    internal bool IsNull(int column) => raw.sqlite3_column_type(statement, column) == raw.SQLITE_NULL;

    internal long? MaybeInteger(int column) => IsNull(column) ? null : Integer(column);

    internal DateTimeOffset Instant(int column) => DateTimeOffset.FromUnixTimeMilliseconds(Integer(column));
}

/// <summary>A parameter's value: null, a whole number, a real number, text or bytes.</summary>
internal readonly struct Value
{
    private readonly long _integer;
    private readonly double _real;
    private readonly object? _other;
    private readonly byte _type;

    private Value(byte type, long integer = 0, double real = 0, object? other = null) =>
        (_type, _integer, _real, _other) = (type, integer, real, other);

    public static implicit operator Value(long value) => new(raw.SQLITE_INTEGER, integer: value);

    public static implicit operator Value(double value) => new(raw.SQLITE_FLOAT, real: value);

    public static implicit operator Value(string value) => new(raw.SQLITE_TEXT, other: value);

    public static implicit operator Value(byte[] value) => new(raw.SQLITE_BLOB, other: value);

    public static implicit operator Value(long? value) => value is { } known ? known : default(Value);

    public static implicit operator Value(double? value) => value is { } known ? known : default(Value);

    public static implicit operator Value(DateTimeOffset value) => value.ToUnixTimeMilliseconds();

    internal int BindTo(sqlite3_stmt statement, int position) => _type switch
    {
        raw.SQLITE_INTEGER => raw.sqlite3_bind_int64(statement, position, _integer),
        raw.SQLITE_FLOAT => raw.sqlite3_bind_double(statement, position, _real),
        raw.SQLITE_TEXT => raw.sqlite3_bind_text(statement, position, (string)_other!),
        raw.SQLITE_BLOB => raw.sqlite3_bind_blob(statement, position, (byte[])_other!),
        _ => raw.sqlite3_bind_null(statement, position),
    };
}
