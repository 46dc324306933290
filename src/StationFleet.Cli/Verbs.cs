using System.CommandLine;
using Microsoft.Data.Sqlite;
using StationFleet.Storage.Platform;

namespace StationFleet.Cli;

/// <summary>Where a verb writes.</summary>
/// <param name="Output">Results.</param>
/// <param name="Error">Failures.</param>
/// <param name="Progress">The bar.</param>
internal sealed record VerbConsole(TextWriter Output, TextWriter Error, ProgressBar Progress);

/// <summary>What all verbs have in common: one sentence on the error stream, and an exit code.</summary>
internal static class Verbs
{
    public static async Task<int> RunAsync(ParseResult parsed, Func<VerbConsole, Task> work)
    {
        TextWriter error = parsed.InvocationConfiguration.Error;
        bool isTerminal = !Console.IsOutputRedirected && !Console.IsErrorRedirected;
        ProgressBar progress = new(error, isTerminal);
        try
        {
            await work(new VerbConsole(parsed.InvocationConfiguration.Output, error, progress));
            return ExitCodes.Done;
        }
        catch (VerbFailure failure)
        {
            progress.Done();
            await error.WriteLineAsync(failure.Message);
            return failure.ExitCode;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or LongCsvException or SqliteException or FleetDatabaseException)
        {
            progress.Done();
            await error.WriteLineAsync(failure.Message);
            return ExitCodes.Failed;
        }
        catch (OperationCanceledException)
        {
            progress.Done();
            await error.WriteLineAsync("Stopped before the work was done.");
            return ExitCodes.Failed;
        }
    }
}
