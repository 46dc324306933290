using System.CommandLine;
using StationFleet.Domain.Quantities;

namespace StationFleet.Cli;

/// <summary><c>stationfleet estimate</c>: from counting chains to removal estimates, the season's figures and its highest months.</summary>
internal static class EstimateVerb
{
    public static Command Make()
    {
        Option<FileInfo> input = new("--in") { Description = "The counting chains, as docs/chains-file.schema.json describes them.", Required = true };
        Option<FileInfo> output = new("--out") { Description = "The estimates to write, as docs/estimates-file.schema.json describes them.", Required = true };
        Command command = new("estimate", "Estimate from counted samples how many organisms were in the collected water.") { input, output };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(
            parsed, console => EstimateAsync(console, parsed.GetRequiredValue(input), parsed.GetRequiredValue(output), cancel)));
        return command;
    }

    private static async Task EstimateAsync(VerbConsole console, FileInfo input, FileInfo output, CancellationToken cancel)
    {
        EstimatesFile estimates = EstimatesFile.Of(ChainsFile.Load(input));
        output.Directory?.Create();
        await File.WriteAllTextAsync(output.FullName, estimates.ToJson() + "\n", cancel);
        int withheld = estimates.Estimates.Count(estimate => estimate.Withheld is not null);
        string held = withheld == 0 ? "" : $", {NumberWords.Figures(withheld)} of them withheld";
        string s = estimates.Estimates.Count == 1 ? "" : "s";
        await console.Output.WriteLineAsync($"{NumberWords.Figures(estimates.Estimates.Count)} estimate{s}{held}; written to {output.FullName}.");
    }
}
