using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;

namespace StationFleet.Cli;

/// <summary><c>stationfleet simulate</c>: an invented fleet's reports as long CSV, and what really happened.</summary>
internal static class SimulateVerb
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new System.Text.Json.Serialization.JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

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
        FleetSimulator simulator = new(fleet, new SimulationOptions(seed));
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

        await using (FileStream file = File.Create(Path.Combine(output.FullName, "truth.json")))
        {
            await JsonSerializer.SerializeAsync(file, TruthFile.Of(fleet, seed, days, truth), Json, cancel);
        }

        console.Progress.Show(1);
        console.Progress.Done();
        await console.Output.WriteLineAsync(string.Create(
            CultureInfo.InvariantCulture, $"{written} reports of {simulator.Stations.Count} stations written to {output.FullName}."));
    }

    /// <summary>What truth.json holds.</summary>
    private sealed record TruthFile(
        string Fleet,
        long Seed,
        DateOnly From,
        DateOnly To,
        IReadOnlyList<PlannedFault> Faults,
        IReadOnlyList<PlannedVisit> Visits,
        IReadOnlyList<DayTruth> Days)
    {
        public static TruthFile Of(FleetFile fleet, long? seed, (DateOnly From, DateOnly To) days, IReadOnlyList<DayTruth> truth) => new(
            fleet.Name,
            seed ?? fleet.Simulation?.Seed ?? new FleetSimulation().Seed,
            days.From,
            days.To,
            fleet.Simulation?.Faults ?? [],
            fleet.Simulation?.Visits ?? [],
            truth);
    }
}
