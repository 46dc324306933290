using System.CommandLine;
using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Domain.Time;
using StationFleet.Storage.Telemetry.LoggerFiles;

namespace StationFleet.Cli;

/// <summary><c>stationfleet import</c>: loggers' files into a database that no server uses, or to a server.</summary>
internal static class ImportVerb
{
    private const int MostFaultsNamed = 20;

    public static Command Make()
    {
        Argument<FileInfo[]> files = new("files") { Description = "One logger's files, oldest first.", Arity = ArgumentArity.OneOrMore };
        Option<DirectoryInfo?> data = new("--data") { Description = "The data folder of a server that is not running." };
        Option<string?> station = new("--station") { Description = "The station whose logger it is; with --data." };
        Option<Uri?> server = new("--server") { Description = "The server's address, such as http://localhost:5080.", CustomParser = Arguments.WebAddress };
        Option<string?> key = new("--key") { Description = "The station's key; with --server. Else the environment variable STATION_KEY is taken." };
        Option<bool> dryRun = new("--dry-run") { Description = "Say how the files are read, and store nothing." };
        LayoutOptions layout = new();
        Command command = new("import", "Import loggers' files: a card pulled from a silent station fills its gap, and a second time adds nothing.")
        {
            files, data, station, server, key, dryRun,
        };
        foreach (Option option in layout.All)
        {
            command.Add(option);
        }

        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, async console =>
        {
            FileInfo[] chosen = parsed.GetRequiredValue(files);
            if (chosen.FirstOrDefault(file => !file.Exists) is { } missing)
            {
                throw new VerbFailure(ExitCodes.WrongUse, $"There is no file {missing.FullName}.");
            }

            await using ImportDoor door = (parsed.GetValue(data), parsed.GetValue(server)) switch
            {
                ({ } folder, null) => await DataDoor.OpenAsync(folder, parsed.GetValue(station), cancel),
                (null, { } address) => ServerDoor.Open(address, parsed.GetValue(key)),
                _ => throw new VerbFailure(ExitCodes.WrongUse, "Say where to: --data with --station, or --server with --key."),
            };
            foreach (FileInfo file in chosen)
            {
                (LoggerFileLayout read, IReadOnlyList<string> headings) = layout.Read(parsed, file.FullName, door.Zone, door.Known);
                await SayLayoutAsync(console.Output, file, read, headings);
                if (!parsed.GetValue(dryRun))
                {
                    LoggerFileCounts counts = await door.ImportAsync(file, read, headings, console.Progress, cancel);
                    console.Progress.Done();
                    await SayAsync(console.Output, counts, parsed.GetValue(server) is not null);
                }
            }
        }));
        return command;
    }

    private static async Task SayLayoutAsync(TextWriter output, FileInfo file, LoggerFileLayout layout, IReadOnlyList<string> headings)
    {
        string columns = layout.Columns switch
        {
            LoggerColumns.Table table => string.Join(", ", table.Series.Select(series =>
                $"{series.Name}{(series.Unit is { } unit ? $" [{unit}]" : "")} from '{headings[series.Column]}'")),
            LoggerColumns.Listed listed => $"names from '{headings[listed.Name]}', values from '{headings[listed.Value]}'",
            _ => throw new System.Diagnostics.UnreachableException(),
        };
        await output.WriteLineAsync($"{file.Name}: times {layout.TimeFormat} from '{headings[layout.Time]}' by {layout.Zone}; {columns}.");
    }

    private static async Task SayAsync(TextWriter output, LoggerFileCounts counts, bool isFromAfar)
    {
        await output.WriteLineAsync(string.Create(
            CultureInfo.InvariantCulture,
            $"new {counts.Added}, repeated {counts.Repeated}, set aside {counts.SetAside.Sum(reason => reason.Count)}"));
        foreach (SetAsideCount reason in counts.SetAside.Take(MostFaultsNamed))
        {
            await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"  {reason.Count} × line {reason.FirstLine}: {reason.Reason}"));
        }

        if (counts.FirstAt is { } first)
        {
            await output.WriteLineAsync($"new readings from {Utc(first)} to {Utc(counts.LastAt!.Value)}");
        }

        foreach (UtcInterval gap in counts.Filled)
        {
            await output.WriteLineAsync($"gap filled: {Utc(gap.Start)} to {Utc(gap.End)} ({NumberWords.Brief(gap.Length.TotalHours)} h)");
        }

        if (isFromAfar && counts.Added > 0)
        {
            await output.WriteLineAsync("The station's page tells the gaps that are left.");
        }

        if (counts.End is ImportEnd.Stopped or ImportEnd.NotWritten)
        {
            throw new VerbFailure(ExitCodes.Failed, counts.End == ImportEnd.Stopped
                ? "Stopped; what was stored stays. Import the file again to go on."
                : "The database could not be written, or its disk is full; what was stored stays. Import the file again to go on.");
        }
    }

    private static string Utc(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
