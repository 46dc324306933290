using System.CommandLine;
using System.Globalization;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Cli;

/// <summary><c>stationfleet send</c>: a file's measurements to a server, as a station would report them.</summary>
internal static class SendVerb
{
    private const int RecordsPerPack = 500;

    public static Command Make()
    {
        Option<Uri> url = new("--url")
        {
            Description = "The server's address, such as http://localhost:5080.", Required = true, CustomParser = Arguments.WebAddress,
        };
        Option<string> key = new("--key") { Description = "The station's key.", Required = true };
        Option<FileInfo> file = new("--file") { Description = "A long CSV file of one station.", Required = true };
        Option<double> rate = new("--rate") { Description = "At most so many reports a minute.", DefaultValueFactory = _ => 600 };
        Command command = new("send", "Send the measurements of a long CSV file to a server as SenML packs.") { url, key, file, rate };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => SendAsync(
            console, parsed.GetRequiredValue(url), parsed.GetRequiredValue(key), parsed.GetRequiredValue(file), parsed.GetValue(rate), cancel)));
        return command;
    }

    private static async Task SendAsync(VerbConsole console, Uri url, string key, FileInfo file, double rate, CancellationToken cancel)
    {
        if (!file.Exists)
        {
            throw new VerbFailure(ExitCodes.WrongUse, $"There is no file {file.FullName}.");
        }

        if (!(rate > 0))
        {
            throw new VerbFailure(ExitCodes.WrongUse, "The rate must be above nought.");
        }

        using IntakeClient client = new(url, key, ReportSource.Station);
        List<LoggerLine.Reading> lines = [.. LongCsv.Read(file.FullName)];
        IntakeReceipt total = IntakeReceipt.Nothing;
        int sent = 0;
        TimeSpan pause = TimeSpan.FromMinutes(1 / rate);
        foreach (List<LoggerLine.Reading> pack in Packs(lines))
        {
            long started = TimeProvider.System.GetTimestamp();
            total += await client.PostAsync(pack, cancel);
            sent += pack.Count;
            console.Progress.Show((double)sent / lines.Count);
            TimeSpan left = pause - TimeProvider.System.GetElapsedTime(started);
            if (left > TimeSpan.Zero && sent < lines.Count)
            {
                await Task.Delay(left, cancel);
            }
        }

        console.Progress.Done();
        await console.Output.WriteLineAsync(string.Create(
            CultureInfo.InvariantCulture, $"accepted {total.Accepted}, repeated {total.Repeated}, set aside {total.SetAside.Count}"));
    }

    // What was received together is sent together; a file without that column goes in packs of one size.
    private static IEnumerable<List<LoggerLine.Reading>> Packs(IReadOnlyList<LoggerLine.Reading> lines)
    {
        List<LoggerLine.Reading> pack = [];
        foreach (LoggerLine.Reading line in lines)
        {
            if (pack.Count > 0 && (pack.Count == RecordsPerPack || pack[0].Received != line.Received))
            {
                yield return pack;
                pack = [];
            }

            pack.Add(line);
        }

        if (pack.Count > 0)
        {
            yield return pack;
        }
    }
}
