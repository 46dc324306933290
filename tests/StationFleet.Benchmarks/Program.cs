using System.Globalization;
using StationFleet.Benchmarks;

int rounds = args.Length == 2 && int.TryParse(args[1], CultureInfo.InvariantCulture, out int asked) ? asked : 5;
switch (args)
{
    case ["bulk" or "small" or "wide", ..]:
        Machine.Tell();
        await IntakeBenchmark.RunAsync(args[0], rounds);
        return 0;
    case ["floor", ..]:
        Machine.Tell();
        await FloorBenchmark.RunAsync(rounds);
        return 0;
    case ["pages", ..]:
        Machine.Tell();
        await PagesBenchmark.RunAsync(3 * rounds);
        return 0;
    case ["export", ..]:
        Machine.Tell();
        await ExportBenchmark.RunAsync(rounds);
        return 0;
    case ["trial", ..]:
        Machine.Tell();
        WatchBenchmark.Trial(rounds);
        return 0;
    case ["sweep", ..]:
        Machine.Tell();
        await WatchBenchmark.SweepAsync(rounds);
        return 0;
    case ["estimates", ..]:
        Machine.Tell();
        EstimatesBenchmark.Run(rounds);
        return 0;
    case ["answer", "--urls", var url]:
        await FloorBenchmark.ServeAsync(url);
        return 0;
    case ["send", var name, var server]:
        await Senders.RunAsync(Workload.Named(name), new Uri(server), (await Console.In.ReadLineAsync())!.Split(' '));
        return 0;
    default:
        await Console.Error.WriteLineAsync("Use: bulk|small|wide|floor|pages|export|trial|sweep|estimates [rounds]. docs/performance.md says what each measures.");
        return 2;
}
