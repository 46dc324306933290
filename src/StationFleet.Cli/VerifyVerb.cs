using System.CommandLine;
using System.Globalization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Cli;

/// <summary><c>stationfleet verify</c>: whether a database is sound, and its roll-ups what the raw readings say.</summary>
internal static class VerifyVerb
{
    private const int MostListed = 50;

    public static Command Make()
    {
        Option<DirectoryInfo> data = new("--data") { Description = "The data folder; its server may run.", Required = true };
        Command command = new("verify", "Make the roll-ups of all time that is not final anew beside the stored ones and compare them; writes nothing.") { data };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => VerifyAsync(console, parsed.GetRequiredValue(data), cancel)));
        return command;
    }

    private static async Task VerifyAsync(VerbConsole console, DirectoryInfo folder, CancellationToken cancel)
    {
        FleetDatabase database = new(DataFolders.DatabaseIn(folder));
        DatabaseCheck check = new(database);
        IReadOnlyList<string> faults = [.. check.Integrity(), .. check.ForeignKeys()];
        foreach (string fault in faults.Take(MostListed))
        {
            await console.Output.WriteLineAsync(fault);
        }

        IReadOnlyList<MeasurementSpan> spans = check.Spans();
        List<RollUpDifference> differences = [];
        for (int i = 0; i < spans.Count; i++)
        {
            differences.AddRange(await new RollUpVerifier(database).VerifyAsync(spans[i].Station, cancel));
            console.Progress.Show((i + 1.0) / spans.Count);
        }

        console.Progress.Done();
        foreach (MeasurementSpan span in spans)
        {
            await console.Output.WriteLineAsync(Line(span));
        }

        Dictionary<StationId, string> codes = spans.ToDictionary(span => span.Station, span => span.Code);
        foreach (RollUpDifference difference in differences.Take(MostListed))
        {
            await console.Output.WriteLineAsync(Line(difference, codes[difference.Station]));
        }

        if (differences.Count > MostListed)
        {
            await console.Output.WriteLineAsync($"… and {NumberWords.Figures(differences.Count - MostListed)} more.");
        }

        string hours = $"{NumberWords.Figures(spans.Sum(span => span.Hours))} hours' roll-ups";
        if (faults.Count + differences.Count > 0)
        {
            throw new VerbFailure(ExitCodes.Failed, string.Create(
                CultureInfo.InvariantCulture,
                $"{faults.Count} faults of the file; {differences.Count} of the {hours} or days are not what the raw readings say."));
        }

        await console.Output.WriteLineAsync($"The file is sound, no reference is broken, and all {hours} and their days are what the raw readings say, but for time that is final.");
    }

    private static string Line(MeasurementSpan span)
    {
        string raw = span.RawFrom is { } from
            ? $"{NumberWords.Figures(span.RawRows)} raw readings from {Utc(from)} to {Utc(span.RawTo!.Value)}"
            : "no raw readings";
        string rolled = span.RolledFrom is { } first ? $", roll-ups since {Utc(first)}" : "";
        return $"{span.Code}: {raw}{rolled}, {(span.SealedUpTo is { } final ? $"final up to {Utc(final)}" : "nothing final")}.";
    }

    private static string Line(RollUpDifference difference, string code)
    {
        string bucket = difference.Hour is { } hour ? $"hour {Utc(hour)}" : string.Create(CultureInfo.InvariantCulture, $"day {difference.Day:yyyy-MM-dd}");
        return $"{code} {difference.Name}, {bucket}: stored {Figures(difference.Stored)}, by the raw readings {Figures(difference.Expected)}.";
    }

    private static string Figures(RollUpFigures? figures) => figures is not { } f ? "nothing" : string.Create(
        CultureInfo.InvariantCulture, $"count {f.Count} sum {f.Sum:R} min {f.Min:R} max {f.Max:R} gained {f.Gained:R} uncertain {f.Uncertain}");

    private static string Utc(DateTimeOffset at) => at.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);
}
