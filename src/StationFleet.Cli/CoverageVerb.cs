using System.CommandLine;
using StationFleet.Domain.Sampling;

namespace StationFleet.Cli;

/// <summary><c>stationfleet coverage</c>: how often the removal estimate's interval holds the truth of invented tanks.</summary>
internal static class CoverageVerb
{
    public static Command Make()
    {
        Option<long> seed = new("--seed") { Description = "The same seed gives the same table.", DefaultValueFactory = _ => 1 };
        Option<int> runs = new("--runs") { Description = "Invented tanks in each cell of the table.", DefaultValueFactory = _ => 4000 };
        Command command = new("coverage", "Try the removal estimate on invented tanks whose truth is known; prints a table in Markdown.") { seed, runs };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => TellAsync(console, parsed.GetValue(seed), parsed.GetValue(runs), cancel)));
        return command;
    }

    private static async Task TellAsync(VerbConsole console, long seed, int runs, CancellationToken cancel)
    {
        if (runs < 1)
        {
            throw new VerbFailure(ExitCodes.WrongUse, "At least one run is needed.");
        }

        (CoverageRegime Regime, double PerLitre)[] cells =
        [
            .. CoverageRegime.All.SelectMany(_ => CoverageRegime.Concentrations, (regime, perLitre) => (regime, perLitre)),
        ];
        CoverageCell[] results = new CoverageCell[cells.Length];
        int done = 0;
        Lock showing = new();
        Parallel.For(0, cells.Length, new ParallelOptions { CancellationToken = cancel, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            results[i] = CoverageTrial.Try(cells[i].Regime, cells[i].PerLitre, runs, seed);
            lock (showing)
            {
                console.Progress.Show(++done / (double)cells.Length);
            }
        });
        console.Progress.Done();
        await console.Output.WriteAsync(CoverageTable.Write(results));
    }
}
