using System.CommandLine;
using StationFleet.Domain.Sampling;

namespace StationFleet.Cli;

/// <summary><c>stationfleet coverage</c>: how often the intervals hold the truth of invented tanks and seasons.</summary>
internal static class CoverageVerb
{
    public static Command Make()
    {
        Option<long> seed = new("--seed") { Description = "The same seed gives the same table.", DefaultValueFactory = _ => 1 };
        Option<int> runs = new("--runs") { Description = "Invented tanks or seasons in each cell of a table.", DefaultValueFactory = _ => 4000 };
        Command command = new("coverage", "Try the intervals on invented tanks and seasons whose truth is known; prints tables in Markdown.") { seed, runs };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => TellAsync(console, parsed.GetValue(seed), parsed.GetValue(runs), cancel)));
        return command;
    }

    private static async Task TellAsync(VerbConsole console, long seed, int runs, CancellationToken cancel)
    {
        if (runs < 1)
        {
            throw new VerbFailure(ExitCodes.WrongUse, "At least one run is needed.");
        }

        (CoverageRegime Regime, double PerLitre)[] tanks =
        [
            .. CoverageRegime.All.SelectMany(_ => CoverageRegime.Concentrations, (regime, perLitre) => (regime, perLitre)),
        ];
        (SeasonDesign Design, double Cv, double PerLitre)[] seasons =
        [
            .. from design in SeasonDesign.All
            from cv in SeasonCoverage.BetweenCvs
            from perLitre in SeasonCoverage.Concentrations
            select (design, cv, perLitre),
        ];
        CoverageCell[] ofTanks = new CoverageCell[tanks.Length];
        SeasonCell[] ofSeasons = new SeasonCell[seasons.Length];
        int all = tanks.Length + seasons.Length;
        int done = 0;
        Lock showing = new();
        Parallel.For(0, all, new ParallelOptions { CancellationToken = cancel, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            if (i < tanks.Length)
            {
                ofTanks[i] = CoverageTrial.Try(tanks[i].Regime, tanks[i].PerLitre, runs, seed);
            }
            else
            {
                (SeasonDesign design, double cv, double perLitre) = seasons[i - tanks.Length];
                ofSeasons[i - tanks.Length] = SeasonCoverage.Try(design, cv, perLitre, runs, seed);
            }

            lock (showing)
            {
                console.Progress.Show(++done / (double)all);
            }
        });
        console.Progress.Done();
        await console.Output.WriteLineAsync(CoverageTable.Write(ofTanks));
        await console.Output.WriteAsync(CoverageTable.Write(ofSeasons));
    }
}
