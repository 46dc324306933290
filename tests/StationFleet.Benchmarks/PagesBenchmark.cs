using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;
using StationFleet.Web.Watch;

namespace StationFleet.Benchmarks;

/// <summary>What Today and a station's page read, with one season in the file and with three, in turns.</summary>
internal static class PagesBenchmark
{
    private static readonly Viewer Everybody = new("1", "Reader", new HashSet<string> { FleetRoles.Administrator }, null);

    public static async Task RunAsync(int rounds)
    {
        using BenchFleet one = await SeasonsFile.MakeAsync(1);
        using BenchFleet three = await SeasonsFile.MakeAsync(3);
        await using WebApplication withOne = Handlers(one);
        await using WebApplication withThree = Handlers(three);
        Tell("file [MB]", new FileInfo(one.Database.Path).Length / 1e6, new FileInfo(three.Database.Path).Length / 1e6);
        await CompareAsync("Today [ms]", rounds, withOne, withThree, services => services.GetRequiredService<ReadToday>()
            .HandleAsync(Everybody, CancellationToken.None));
        await CompareAsync("a station's page [ms]", 10 * rounds, withOne, withThree, services => services.GetRequiredService<ReadStation>()
            .HandleAsync(Everybody, Workload.CodeOf(7), CancellationToken.None));
    }

    private static WebApplication Handlers(BenchFleet fleet)
    {
        WebApplicationBuilder builder = WebApplication.CreateBuilder(["--Data", fleet.Folder, "--Scheduler:Enabled", "false"]);
        builder.Logging.ClearProviders();
        builder.AddPlatform();
        builder.AddWatch();
        builder.Services.AddFleet().AddService();
        WebApplication app = builder.Build();
        app.Services.GetRequiredService<FleetClock>().HoldAt(SeasonsFile.Now);
        return app;
    }

    private static async Task CompareAsync(
        string what, int rounds, WebApplication one, WebApplication three, Func<IServiceProvider, Task> read)
    {
        await TimeAsync(one, read);
        await TimeAsync(three, read);
        List<double> withOne = [];
        List<double> withThree = [];
        for (int round = 0; round < rounds; round++)
        {
            withOne.Add(await TimeAsync(one, read));
            withThree.Add(await TimeAsync(three, read));
        }

        Tell(what, Median.Of(withOne), Median.Of(withThree));
    }

    private static async Task<double> TimeAsync(WebApplication app, Func<IServiceProvider, Task> read)
    {
        long started = TimeProvider.System.GetTimestamp();
        await read(app.Services);
        return TimeProvider.System.GetElapsedTime(started).TotalMilliseconds;
    }

    private static void Tell(string what, double one, double three) => Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture, $"{what}: one season {one:0.0}, three seasons {three:0.0}, ratio {three / one:0.00}"));
}
