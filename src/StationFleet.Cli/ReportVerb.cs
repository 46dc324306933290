using System.CommandLine;
using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Reports.Seasons;
using StationFleet.Reports.Tables;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Cli;

/// <summary><c>stationfleet report</c>: the figures of a season from a data folder, as the page Season exports them.</summary>
internal static class ReportVerb
{
    private static readonly string[] Formats = ["pdf", "xlsx", "csv", "json", "txt"];

    private sealed record Asked(
        DirectoryInfo Data, int? Season, DateOnly? From, DateOnly? To, string Format, string? Out, string[] Stations, MonthDay First, MonthDay Last, UnitSystem Units, string Agency, DateTimeOffset AsOf);

    public static Command Make()
    {
        Option<DirectoryInfo> data = new("--data") { Description = "The data folder; its server may run.", Required = true };
        Option<int?> season = new("--season") { Description = "The year in which the season begins; or name days by --from and --to." };
        Option<DateOnly?> from = new("--from") { Description = "The first local day of any days, such as 2025-10-01.", CustomParser = argument => Arguments.Day(argument) };
        Option<DateOnly?> until = new("--to") { Description = "The last of them.", CustomParser = argument => Arguments.Day(argument) };
        Option<string> format = new("--format") { Description = "pdf, xlsx, csv (one file per table), json (their description) or txt.", Required = true };
        format.AcceptOnlyFromAmong(Formats);
        Option<string?> to = new("--out") { Description = "The file, or for csv the folder; season-YEAR.FORMAT here when left out." };
        Option<string[]> stations = new("--station") { Description = "A station's code; all when left out.", AllowMultipleArgumentsPerToken = true };
        Option<MonthDay> first = Day("--first-day", "05-01");
        Option<MonthDay> last = Day("--last-day", "10-15");
        Option<string> units = new("--units") { Description = "us or metric, for pdf, xlsx and txt.", DefaultValueFactory = _ => "us" };
        units.AcceptOnlyFromAmong("us", "metric");
        Option<string> agency = new("--organization") { Description = "Who answers for the figures.", DefaultValueFactory = _ => "Our stations" };
        Option<DateTimeOffset?> asOf = new("--as-of")
        {
            Description = "Count nothing from this instant on, such as 2026-07-08T13:05:00Z; now when left out.",
            CustomParser = argument => Rfc3339.TryParse(argument.Tokens[0].Value, out DateTimeOffset at) ? at : Wrong(argument),
        };
        Command command = new("report", "Write a season's figures, each with its definition, from a data folder; writes nothing into it.")
        {
            data, season, from, until, format, to, stations, first, last, units, agency, asOf,
        };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => WriteAsync(
            console,
            new Asked(
                parsed.GetRequiredValue(data), parsed.GetValue(season), parsed.GetValue(from), parsed.GetValue(until), parsed.GetRequiredValue(format), parsed.GetValue(to),
                parsed.GetValue(stations) ?? [], parsed.GetRequiredValue(first), parsed.GetRequiredValue(last),
                parsed.GetValue(units) == "metric" ? UnitSystem.Metric : UnitSystem.UsCustomary, parsed.GetRequiredValue(agency),
                parsed.GetValue(asOf) ?? DataFolders.Now(parsed.GetRequiredValue(data))),
            cancel)));
        return command;

        static DateTimeOffset? Wrong(System.CommandLine.Parsing.ArgumentResult argument)
        {
            argument.AddError($"'{argument.Tokens[0].Value}' is no instant such as 2026-07-08T13:05:00Z.");
            return null;
        }
    }

    private static async Task WriteAsync(VerbConsole console, Asked asked, CancellationToken cancel)
    {
        FleetDatabase database = new(DataFolders.DatabaseIn(asked.Data));
        SeasonReader reader = new(database, new StationSetupReader(database), new MeasurementReader(database));
        StationId[] stations = await StationsAsync(database, asked.Stations, cancel);
        Season season = SeasonOf(asked);
        console.Progress.Show(0.05);
        SeasonSummary summary = SeasonSummary.Of(await reader.ReadAsync(stations, season, asked.AsOf, cancel));
        console.Progress.Show(0.5);
        ReportFrame frame = new(
            SeasonWords.Title(season), asked.Agency, [SeasonWords.Headline(summary, asked.Units), SeasonWords.Backing(summary)], DataFolders.IsDemo(asked.Data));
        string name = string.Create(
            CultureInfo.InvariantCulture, $"season-{(season.IsRange ? $"{season.FirstDay:yyyy-MM-dd}-to-{season.LastDay:yyyy-MM-dd}" : season.Year)}");
        string path = asked.Out ?? (asked.Format == "csv" ? name : $"{name}.{asked.Format}");
        if (asked.Format == "csv")
        {
            Directory.CreateDirectory(path);
            foreach (string key in SeasonCsv.TableKeys)
            {
                await File.WriteAllBytesAsync(Path.Combine(path, $"{key}.csv"), SeasonCsv.Write(summary, key, frame.IsInvented)!, cancel);
            }
        }
        else
        {
            await File.WriteAllBytesAsync(path, Bytes(asked, summary, frame, console.Progress), cancel);
        }

        console.Progress.Done();
        await console.Output.WriteLineAsync($"{Path.GetFullPath(path)}: {frame.Lead[0]}");
    }

    private static Season SeasonOf(Asked asked) => asked switch
    {
        { Season: null, From: { } from, To: { } to } when from <= to => Season.Range(from, to),
        { Season: >= 1990 and <= 2200, From: null, To: null } => Season.Of(asked.Season.Value, asked.First, asked.Last),
        _ => throw new VerbFailure(ExitCodes.WrongUse, "Name a season by its year (--season 2026), or days by --from and --to."),
    };

    private static byte[] Bytes(Asked asked, SeasonSummary summary, ReportFrame frame, ProgressBar progress) => asked.Format switch
    {
        "pdf" => SeasonPdf.Write(summary, asked.Units, frame, done => progress.Show(0.5 + (done / 2))),
        "xlsx" => SeasonWorkbook.Write(summary, asked.Units, frame),
        "json" => SeasonCsv.Describe(summary, frame, key => $"{key}.csv"),
        _ => Encoding.UTF8.GetBytes(SeasonNarrative.Write(summary, asked.Units, asked.Agency, frame.IsInvented)),
    };

    private static async Task<StationId[]> StationsAsync(FleetDatabase database, string[] codes, CancellationToken cancel)
    {
        await using FleetDbContext db = database.CreateDbContext();
        Dictionary<string, StationId> known = await db.Stations.AsNoTracking().ToDictionaryAsync(station => station.Code, station => station.Id, cancel);
        return codes.FirstOrDefault(code => !known.ContainsKey(code)) is { } unknown
            ? throw new VerbFailure(ExitCodes.WrongUse, $"There is no station {unknown} in {database.Path}.")
            : codes.Length == 0 ? [.. known.Values] : [.. codes.Select(code => known[code])];
    }

    private static Option<MonthDay> Day(string name, string otherwise) => new(name)
    {
        Description = $"The season's {(name == "--first-day" ? "first" : "last")} local day, as month and day; {otherwise} when left out.",
        DefaultValueFactory = _ => MonthDay.Parse(otherwise)!.Value,
        CustomParser = argument =>
        {
            if (MonthDay.Parse(argument.Tokens[0].Value) is { } day)
            {
                return day;
            }

            argument.AddError($"'{argument.Tokens[0].Value}' is no month and day such as 05-01.");
            return default;
        },
    };
}
