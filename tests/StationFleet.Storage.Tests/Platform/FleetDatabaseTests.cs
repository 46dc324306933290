using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Storage.Tests.Platform;

public sealed class FleetDatabaseTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    [Fact]
    public void Every_table_but_the_migration_tool_s_own_lock_is_strict()
    {
        object? lax = file.Scalar(
            """
            SELECT group_concat(name) FROM pragma_table_list
            WHERE schema = 'main' AND type = 'table' AND strict = 0 AND name NOT LIKE 'sqlite_%'
            """);

        lax.Should().Be("__EFMigrationsLock");
    }

    [Fact]
    public void A_text_in_a_number_column_is_refused()
    {
        Action write = () => file.Scalar("INSERT INTO last_heard (station_id, at) VALUES (1, 'at noon')");

        write.Should().Throw<SqliteException>().WithMessage("*cannot store TEXT value in INTEGER column last_heard.at*");
    }

    [Fact]
    public void The_model_has_no_changes_that_a_migration_lacks()
    {
        using FleetDbContext db = file.CreateDbContext();

        db.Database.HasPendingModelChanges().Should().BeFalse();
    }

    [Fact]
    public async Task Each_connection_of_ef_waits_for_others_syncs_each_commit_and_checks_references()
    {
        await using FleetDbContext db = file.CreateDbContext();

        (await db.Database.SqlQuery<string>($"SELECT journal_mode AS Value FROM pragma_journal_mode").SingleAsync()).Should().Be("wal");
        (await db.Database.SqlQuery<int>($"SELECT synchronous AS Value FROM pragma_synchronous").SingleAsync()).Should().Be(2, "FULL");
        (await db.Database.SqlQuery<int>($"SELECT foreign_keys AS Value FROM pragma_foreign_keys").SingleAsync()).Should().Be(1);
        (await db.Database.SqlQuery<int>($"SELECT timeout AS Value FROM pragma_busy_timeout").SingleAsync()).Should().Be(5000);
    }

    [Fact]
    public void The_writer_s_connection_is_as_durable_and_looks_up_no_foreign_keys()
    {
        using SqliteConnection connection = file.Database.OpenWriter();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText =
            """
            SELECT journal_mode || ' ' || synchronous || ' ' || foreign_keys || ' ' || timeout
            FROM pragma_journal_mode, pragma_synchronous, pragma_foreign_keys, pragma_busy_timeout
            """;

        command.ExecuteScalar().Should().Be("wal 2 0 5000", "the writer makes or finds each row's parents itself");
    }

    [Fact]
    public void A_reader_cannot_write()
    {
        using SqliteConnection connection = file.Database.OpenReader();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "DELETE FROM measurements";

        command.Invoking(c => c.ExecuteNonQuery()).Should().Throw<SqliteException>().WithMessage("*readonly*");
    }

    [Theory]
    [InlineData("3.51.2")]
    [InlineData("3.46.1")]
    [InlineData("nonsense")]
    public void An_engine_that_can_damage_the_database_is_refused_with_a_sentence(string version)
    {
        Action check = () => FleetDatabase.RequireEngine(version);

        check.Should().Throw<FleetDatabaseException>()
            .WithMessage($"SQLite {version} is too old: StationFleet needs 3.51.3 or newer, since older engines can damage its database.");
    }

    [Theory]
    [InlineData("3.51.3")]
    [InlineData("3.53.0")]
    public void An_engine_that_is_new_enough_is_taken(string version) =>
        FluentActions.Invoking(() => FleetDatabase.RequireEngine(version)).Should().NotThrow();

    [Fact]
    public async Task Opening_a_database_again_changes_nothing()
    {
        Station station = await file.AddStationAsync("AGAIN-1");

        await file.Database.OpenAsync(CancellationToken.None);

        await using FleetDbContext db = file.CreateDbContext();
        (await db.Stations.SingleAsync(known => known.Code == "AGAIN-1")).Id.Should().Be(station.Id);
    }

    [Fact]
    public async Task Work_that_throws_writes_nothing()
    {
        Func<Task> work = () => file.WriteAsync(
            async db =>
            {
                db.Add(new Agency { Name = "Half an agency" });
                await db.SaveChangesAsync();
                throw new InvalidOperationException("broken on the way");
            },
            CancellationToken.None);

        await work.Should().ThrowAsync<InvalidOperationException>();
        await using FleetDbContext db = file.CreateDbContext();
        (await db.Agencies.AnyAsync(agency => agency.Name == "Half an agency")).Should().BeFalse();
    }

    [Fact]
    public async Task Transactions_that_read_first_and_write_later_do_not_lose_each_other_s_work()
    {
        await file.AddAsync(new Setting { Name = "test/count", Value = "0" });

        await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => Task.Run(() => file.WriteAsync(
            async db =>
            {
                Setting count = await db.Settings.SingleAsync(setting => setting.Name == "test/count");
                count.Value = (int.Parse(count.Value, null) + 1).ToString(null as IFormatProvider);
            },
            CancellationToken.None))));

        await using FleetDbContext db = file.CreateDbContext();
        (await db.Settings.SingleAsync(setting => setting.Name == "test/count")).Value.Should().Be("20");
    }

    [Fact]
    public async Task A_host_gets_the_writer_the_reader_and_contexts_from_its_services()
    {
        await using ServiceProvider services = new ServiceCollection().AddFleetStorage(file.Database.Path).BuildServiceProvider();

        services.GetRequiredService<MeasurementWriter>().Should().BeSameAs(services.GetRequiredService<MeasurementWriter>());
        services.GetRequiredService<MeasurementReader>().Should().NotBeNull();
        await using FleetDbContext db = await services.GetRequiredService<IDbContextFactory<FleetDbContext>>().CreateDbContextAsync();
        (await db.Database.GetPendingMigrationsAsync()).Should().BeEmpty();
    }
}
