using System.CommandLine;

namespace StationFleet.Cli;

/// <summary>The program: its verbs, and what it says when it is used wrongly.</summary>
public static class StationFleetCommand
{
    /// <summary>Runs one verb.</summary>
    /// <param name="arguments">The command line without the program's name.</param>
    /// <param name="output">Results.</param>
    /// <param name="error">Failures, one sentence each.</param>
    /// <returns>0 done, 1 failed, 2 wrong use.</returns>
    public static async Task<int> RunAsync(IReadOnlyList<string> arguments, TextWriter output, TextWriter error)
    {
        RootCommand root = new("Command line of StationFleet: invented data, telemetry and reports of a fleet of cleaning stations.")
        {
            SimulateVerb.Make(),
            TrialVerb.Make(),
            EstimateVerb.Make(),
            QualityVerb.Make(),
            CoverageVerb.Make(),
            SendVerb.Make(),
            ImportVerb.Make(),
            VerifyVerb.Make(),
        };
        ParseResult parsed = root.Parse(arguments);
        if (parsed.Errors.Count > 0 && parsed.Action is not System.CommandLine.Help.HelpAction)
        {
            await error.WriteLineAsync(parsed.Errors[0].Message);
            return ExitCodes.WrongUse;
        }

        return await parsed.InvokeAsync(new InvocationConfiguration { Output = output, Error = error });
    }
}
