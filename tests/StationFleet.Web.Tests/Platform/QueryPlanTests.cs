using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Reflection;
using Microsoft.AspNetCore.Components;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore.Diagnostics;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Tests.Platform;

/// <summary>
/// Opens every page of the server and has SQLite explain each statement that it ran: raw rows and roll-ups are sought by key and
/// time, never scanned, so that a page does not grow slower with the years.
/// </summary>
public sealed class QueryPlanTests(FleetApp app) : IClassFixture<FleetApp>, IDisposable
{
    // Each of these grows with time; what else there is grows with the fleet.
    private static readonly string[] Growing = ["measurements", "measurements m", "rollup_hours", "rollup_hours h", "rollup_days", "rollup_days d"];

    private readonly ConcurrentDictionary<string, string> _statements = new(StringComparer.Ordinal);
    private readonly List<IDisposable> _listening = [];
    private string _page = "";

    public static IEnumerable<string> Pages => typeof(Program).Assembly.GetTypes()
        .SelectMany(type => type.GetCustomAttributes<RouteAttribute>())
        .Select(route => route.Template
            .Replace("{Code}", "COP-1", StringComparison.Ordinal)
            .Replace("{Slug}", "dam-road", StringComparison.Ordinal)
            .Replace("{Number:int}", "1", StringComparison.Ordinal))
        .Concat(["/season/export.xlsx", "/season/tables.json", "/season/stations.csv"]);

    [Fact]
    public async Task No_page_scans_measurements_or_roll_ups()
    {
        await FillAsync();
        (_, PlainBrowser browser) = await app.AddBrowserAsync("Plan Reader", FleetRoles.Administrator);
        using PlainBrowser closing = browser;
        Listen();

        List<string> read = [];
        foreach (string path in Pages)
        {
            _page = path;
            if ((await browser.GoAsync(path)).Status == HttpStatusCode.OK)
            {
                read.Add(path);
            }
        }

        read.Should().Contain(["/", "/stations", "/stations/COP-1", "/season", "/tickets", "/office/stations/COP-1"]);
        _statements.Keys.Should().Contain(sql => sql.Contains("rollup_days", StringComparison.Ordinal));
        _statements.Keys.Should().Contain(sql => sql.Contains("measurements", StringComparison.Ordinal));
        _statements.SelectMany(statement => Faults(statement.Key, statement.Value)).Should().BeEmpty();
    }

    [Theory]
    [InlineData("SELECT count(*) FROM measurements", true)]
    [InlineData("SELECT * FROM measurements WHERE at > 5", true)]
    [InlineData("SELECT * FROM measurements m WHERE m.series_id = 5", true)]
    [InlineData("SELECT * FROM rollup_days d JOIN series s ON s.id = d.series_id WHERE s.station_id = 1", true)]
    [InlineData("SELECT * FROM measurements WHERE series_id = 1 AND at > 5", false)]
    public void The_check_itself_finds_a_scan(string sql, bool scans) => (Faults(sql, "").Count > 0).Should().Be(scans);

    public void Dispose()
    {
        app.Get<FleetDatabase>().OnRead = null;
        _listening.ForEach(one => one.Dispose());
    }

    private async Task FillAsync()
    {
        Station station = await app.Databases.AddStationAsync("COP-1");
        await app.Databases.AddPlacementAsync(station, await app.Databases.AddAccessAsync());
        await app.Databases.AddToolAsync(station);
        DateTimeOffset start = FleetApp.Start.AddDays(-40);
        await app.Get<MeasurementWriter>().WriteAsync(
            FleetBuilders.Report(
                station,
                [.. Enumerable.Range(0, 400).SelectMany(step => new[]
                {
                    new Measurement(MeasurementName.Uses("vacuum"), start.AddHours(2 * step), step),
                    new Measurement(MeasurementName.TankFill, start.AddHours(2 * step), step % 50 / 50.0),
                    new Measurement(MeasurementName.BatteryCharge, start.AddHours(2 * step), 0.8),
                })]),
            CancellationToken.None);
    }

    private void Listen()
    {
        string file = app.Get<FleetDatabase>().Path;
        app.Get<FleetDatabase>().OnRead = Note;
        SqliteConnection.ClearAllPools(); // only a fresh connection tells
        _listening.Add(DiagnosticListener.AllListeners.Subscribe(new Observer<DiagnosticListener>(listener =>
        {
            if (listener.Name == "Microsoft.EntityFrameworkCore")
            {
                _listening.Add(listener.Subscribe(new Observer<KeyValuePair<string, object?>>(happening =>
                {
                    if (happening.Value is CommandEventData { Command.Connection: { } connection } data && connection.DataSource == file)
                    {
                        Note(data.Command.CommandText);
                    }
                })));
            }
        })));
    }

    private void Note(string sql)
    {
        if (sql.TrimStart().StartsWith("SELECT", StringComparison.OrdinalIgnoreCase) || sql.TrimStart().StartsWith("WITH", StringComparison.OrdinalIgnoreCase))
        {
            _statements.TryAdd(sql, _page);
        }
    }

    private List<string> Faults(string sql, string page)
    {
        using SqliteConnection connection = new(app.Get<FleetDatabase>().ConnectionString);
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // what the server itself ran
        command.CommandText = "EXPLAIN QUERY PLAN " + sql;
#pragma warning restore CA2100
        foreach (string name in Parameters(sql))
        {
            command.Parameters.AddWithValue(name, DBNull.Value);
        }

        List<string> faults = [];
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            string step = reader.GetString(3);
            string[] words = step.Split(' ');
            bool isGrowing = words.Length > 1 && Growing.Any(table => table.Split(' ')[^1] == words[1] && sql.Contains(table, StringComparison.Ordinal));
            bool isBounded = step.Contains("at>", StringComparison.Ordinal) || step.Contains("at<", StringComparison.Ordinal)
                || step.Contains("at=", StringComparison.Ordinal) || step.Contains("day>", StringComparison.Ordinal)
                || step.Contains("hour_start>", StringComparison.Ordinal) || sql.Contains("max(at)", StringComparison.Ordinal);
            if (isGrowing && !isBounded)
            {
                faults.Add($"{page}: {step}: {sql}");
            }
        }

        return faults;
    }

    private static IEnumerable<string> Parameters(string sql) =>
        System.Text.RegularExpressions.Regex.Matches(sql, "@[A-Za-z_0-9]+").Select(match => match.Value).Distinct();

    private sealed class Observer<T>(Action<T> next) : IObserver<T>
    {
        public void OnCompleted()
        {
        }

        public void OnError(Exception error)
        {
        }

        public void OnNext(T value) => next(value);
    }
}
