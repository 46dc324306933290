using StationFleet.Domain.Fleet;

namespace StationFleet.Cli;

/// <summary>What a verb cannot go on with; the message is one sentence for the error stream.</summary>
/// <param name="exitCode">1 when the work failed, 2 when it was asked for wrongly.</param>
internal sealed class VerbFailure(int exitCode, string message) : Exception(message)
{
    public int ExitCode { get; } = exitCode;
}

/// <summary>Fleet files on disk.</summary>
internal static class FleetFiles
{
    public static FleetFile Load(FileInfo file)
    {
        if (!file.Exists)
        {
            throw new VerbFailure(ExitCodes.WrongUse, $"There is no fleet file {file.FullName}.");
        }

        return FleetFile.Parse(File.ReadAllText(file.FullName)) switch
        {
            FleetFileReading.Read read => read.Fleet,
            FleetFileReading.Refused { Faults: [var only] } => throw new VerbFailure(ExitCodes.Failed, only),
            FleetFileReading.Refused refused => throw new VerbFailure(
                ExitCodes.Failed, $"{refused.Faults[0]} ({refused.Faults.Count - 1} more faults.)"),
            _ => throw new System.Diagnostics.UnreachableException(),
        };
    }
}

/// <summary>What the program says to whoever started it.</summary>
internal static class ExitCodes
{
    public const int Done = 0;
    public const int Failed = 1;
    public const int WrongUse = 2;
}
