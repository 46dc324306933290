using System.Globalization;
using StationFleet.Benchmarks;

switch (args)
{
    case ["bulk" or "small" or "wide", ..]:
        await IntakeBenchmark.RunAsync(args[0], args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 5);
        return 0;
    case ["send", var name, var server]:
        await Senders.RunAsync(Workload.Named(name), new Uri(server), (await Console.In.ReadLineAsync())!.Split(' '));
        return 0;
    default:
        await Console.Error.WriteLineAsync("Use: bulk|small|wide [rounds]. docs/performance.md says what each measures.");
        return 2;
}
