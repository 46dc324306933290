using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Quality;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Testing;
using StationFleet.Web.Duty;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;
using StationFleet.Web.Watch;

namespace StationFleet.Benchmarks;

/// <summary>The trial of one station-season, and the live watch over a thousand stations.</summary>
internal static class WatchBenchmark
{
    private const int Stations = 1000;
    private const int DaysKnown = 60;
    private static readonly FleetFile Season = QualityWorld.Of(QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Middling)[1], SimulatedWorldKind.Usual);

    /// <summary>Tries the rules on a season of 200 days, sampled every 5 minutes and reported every 15.</summary>
    public static void Trial(int rounds)
    {
        List<WatchReport> reports = [.. Reports(QualityWorld.Last)];
        List<double> seconds = [];
        for (int round = 0; round <= rounds; round++)
        {
            long started = TimeProvider.System.GetTimestamp();
            StationTrial trial = new(TrialSetup.Of(Season, QualityWorld.Code), reports[0].Received, TimeSpan.FromMinutes(5));
            trial.Run(reports, reports[^1].Received);
            seconds.Add(TimeProvider.System.GetElapsedTime(started).TotalSeconds);
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"trial of a station-season, {reports.Count} reports [s]: {Median.Of(seconds[1..]):0.00}, the first one {seconds[0]:0.00}"));
    }

    /// <summary>Watches a thousand stations every five minutes; each reports every 15.</summary>
    public static async Task SweepAsync(int rounds)
    {
        using BenchFleet fleet = await BenchFleet.MakeAsync(Stations);
        await using WebApplication app = Handlers(fleet);
        FleetClock clock = app.Services.GetRequiredService<FleetClock>();
        MeasurementWriter writer = app.Services.GetRequiredService<MeasurementWriter>();
        RunWatch watch = app.Services.GetRequiredService<RunWatch>();
        List<WatchReport> reports = [.. Reports(QualityWorld.First.AddDays(DaysKnown + 1))];
        int known = reports.FindIndex(report => report.Received >= reports[0].Received.AddDays(DaysKnown));
        await PrepareAsync(fleet, app, reports[..known]);

        (List<double> silent, List<double> reporting) = ([], []);
        for (int round = 0; round < rounds; round++)
        {
            WatchReport next = reports[known + round];
            clock.HoldAt(next.Received.AddSeconds(1));
            foreach (Station[] some in fleet.Stations.Chunk(100))
            {
                await Task.WhenAll(some.Select(station => writer.WriteAsync(
                    FleetBuilders.ReportReceivedAt(station, next.Received, [.. next.Measurements]), CancellationToken.None)));
            }

            reporting.Add(await TimeAsync(watch));
            clock.HoldAt(next.Received.AddSeconds(301));
            silent.Add(await TimeAsync(watch));
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"watch over {Stations} stations [s]: {Median.Of(reporting):0.00} when each has reported, {Median.Of(silent):0.00} when none has"));
    }

    // Every station knows what the first one would know after sixty days.
    private static async Task PrepareAsync(BenchFleet fleet, WebApplication app, List<WatchReport> reports)
    {
        await using FleetDbContext db = fleet.Database.CreateDbContext();
        foreach (Station station in fleet.Stations)
        {
            db.AddRange(Season.Stations[0].Tools.Select(tool => new Tool
            {
                StationId = station.Id, Slug = tool.Slug, Kind = tool.Kind, Name = tool.Name, Installed = station.Created,
            }));
            db.Add(new StationTank { StationId = station.Id, From = station.Created, CapacityLitres = 416.4 });
            db.Add(new StationPower { StationId = station.Id, From = station.Created, Chemistry = BatteryChemistry.Agm, CapacityAh = 130, PanelWatts = 130 });
        }

        await db.SaveChangesAsync();
        DateTimeOffset until = reports[^1].Received;
        StationSetup setup = (await app.Services.GetRequiredService<StationSetupReader>()
            .ReadAsync(fleet.Stations[0].Id, until, TimeZoneInfo.Utc, CancellationToken.None))!;
        WatchEngine engine = new(setup, WatchState.StartingAt(reports[0].Received), TimeSpan.FromMinutes(5));
        engine.Run(reports, until, new WatchHistory(null, [], []));
        string state = WatchJson.Write(engine.State);
        db.AddRange(fleet.Stations.Select(station => new WatchPosition { StationId = station.Id, EvaluatedTo = until, State = state }));
        await db.SaveChangesAsync();
    }

    private static async Task<double> TimeAsync(RunWatch watch)
    {
        long started = TimeProvider.System.GetTimestamp();
        RunWatch.Outcome outcome = await watch.HandleAsync(CancellationToken.None);
        return outcome is { Stations: Stations, Failed: 0 }
            ? TimeProvider.System.GetElapsedTime(started).TotalSeconds
            : throw new InvalidOperationException($"The watch saw {outcome}.");
    }

    private static WebApplication Handlers(BenchFleet fleet)
    {
        WebApplicationBuilder builder = WebApplication.CreateBuilder(["--Data", fleet.Folder, "--Scheduler:Enabled", "false"]);
        builder.Logging.ClearProviders();
        builder.AddPlatform();
        builder.AddWatch();
        builder.AddMail();
        builder.Services.AddDuty();
        return builder.Build();
    }

    private static IEnumerable<WatchReport> Reports(DateOnly last) => new StationSimulator(Season, QualityWorld.Code).Run(QualityWorld.First, last)
        .Select(report => RecordedIntake.Of(report.Received, report.Measurements, Season.Stations[0].Created).Report);
}
