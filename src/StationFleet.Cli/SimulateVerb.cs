using System.CommandLine;
using System.Globalization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;

namespace StationFleet.Cli;

/// <summary><c>stationfleet simulate</c>: an invented fleet's reports as long CSV, and what really happened.</summary>
internal static class SimulateVerb
{
    public static Command Make()
    {
        Option<FileInfo> fleet = new("--fleet") { Description = "The fleet file.", Required = true };
        Option<DateOnly> from = new("--from") { Description = "The first local day, as 2026-05-01.", Required = true, CustomParser = Arguments.Day };
        Option<DateOnly> to = new("--to") { Description = "The last local day.", Required = true, CustomParser = Arguments.Day };
        Option<long?> seed = new("--seed") { Description = "Another seed than the file's: another world." };
        Option<DirectoryInfo> output = new("--out") { Description = "The folder to write to; made when it is not there.", Required = true };
        Command command = new("simulate", "Invent a fleet's reports: CODE.csv for each station, and truth.json with what really happened.")
        {
            fleet, from, to, seed, output,
        };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => WriteAsync(
            console,
            FleetFiles.Load(parsed.GetRequiredValue(fleet)),
            (parsed.GetRequiredValue(from), parsed.GetRequiredValue(to)),
            parsed.GetValue(seed),
            parsed.GetRequiredValue(output),
            cancel)));
        return command;
    }

    private static async Task WriteAsync(
        VerbConsole console, FleetFile fleet, (DateOnly From, DateOnly To) days, long? seed, DirectoryInfo output, CancellationToken cancel)
    {
        if (days.To < days.From)
        {
            throw new VerbFailure(ExitCodes.WrongUse, "The last day lies before the first.");
        }

        output.Create();
        List<DayTruth> truth = [];
        SimulationOptions options = new(seed);
        FleetSimulator simulator = new(fleet, options);
        double daysEach = days.To.DayNumber - days.From.DayNumber + 1;
        int written = 0;
        for (int i = 0; i < simulator.Stations.Count; i++)
        {
            StationSimulator station = simulator.Stations[i];
            await using StreamWriter file = new(Path.Combine(output.FullName, station.Code + ".csv")) { NewLine = "\n" };
            await file.WriteLineAsync(LongCsv.Header);
            foreach (SimulatedReport report in station.Run(days.From, days.To, truth.Add))
            {
                cancel.ThrowIfCancellationRequested();
                LongCsv.Write(file, report);
                written++;
                double done = (report.Measurements[0].At.UtcDateTime - days.From.ToDateTime(TimeOnly.MinValue)).TotalDays / daysEach;
                console.Progress.Show((i + Math.Clamp(done, 0, 1)) / simulator.Stations.Count);
            }
        }

        SimulationTruth whole = SimulationTruth.Of(fleet, simulator, options, days.From, days.To, truth);
        await File.WriteAllTextAsync(Path.Combine(output.FullName, "truth.json"), whole.ToJson() + "\n", cancel);

        console.Progress.Show(1);
        console.Progress.Done();
        await console.Output.WriteLineAsync(string.Create(
            CultureInfo.InvariantCulture, $"{written} reports of {simulator.Stations.Count} stations written to {output.FullName}."));
    }
}
