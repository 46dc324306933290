using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace StationFleet.Storage.Platform;

/// <summary>
/// Short writing transactions. They take the write lock at their start: a transaction that reads first and writes later
/// could not get the lock any more once another has written, and no waiting would help it.
/// </summary>
public static class FleetTransactions
{
    /// <summary>Runs a piece of work in one IMMEDIATE transaction, saves the context's changes and commits.</summary>
    /// <param name="databases">Where contexts come from.</param>
    /// <param name="work">What to do; anything slow belongs before it. If it throws, nothing is written.</param>
    /// <param name="cancel">Stops it; nothing is written then.</param>
    public static async Task<T> WriteAsync<T>(
        this IDbContextFactory<FleetDbContext> databases, Func<FleetDbContext, Task<T>> work, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(databases);
        ArgumentNullException.ThrowIfNull(work);
        await using FleetDbContext database = await databases.CreateDbContextAsync(cancel);
        await database.Database.OpenConnectionAsync(cancel);
        SqliteConnection connection = (SqliteConnection)database.Database.GetDbConnection();
        await using SqliteTransaction transaction = connection.BeginTransaction(deferred: false);
        await database.Database.UseTransactionAsync(transaction, cancel);
        T result = await work(database);
        await database.SaveChangesAsync(cancel);
        await transaction.CommitAsync(cancel);
        return result;
    }

    /// <inheritdoc cref="WriteAsync{T}"/>
    public static Task WriteAsync(
        this IDbContextFactory<FleetDbContext> databases, Func<FleetDbContext, Task> work, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(work);
        return databases.WriteAsync(
            async database =>
            {
                await work(database);
                return true;
            },
            cancel);
    }
}
