using System.CommandLine;
using System.Globalization;
using System.Text;
using Microsoft.EntityFrameworkCore;
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
        DirectoryInfo Data, int? Season, DateOnly? From, DateOnly? To, string Format, string? Out, SeasonPart Part, MonthDay First, MonthDay Last, UnitSystem Units, string Agency, DateTimeOffset AsOf);

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
        Option<string?> access = new("--access") { Description = "An access's name in addresses, such as dam-road: only what happened there." };
        Option<string?> award = new("--award") { Description = "An award's number: the stations that its reports tell of." };
        Option<string?> owner = new("--owner") { Description = "An agency's name: the stations that it owns." };
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
            data, season, from, until, format, to, stations, access, award, owner, first, last, units, agency, asOf,
        };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => WriteAsync(
            console,
            new Asked(
                parsed.GetRequiredValue(data), parsed.GetValue(season), parsed.GetValue(from), parsed.GetValue(until), parsed.GetRequiredValue(format), parsed.GetValue(to),
                new SeasonPart(parsed.GetValue(stations) ?? [], parsed.GetValue(access), parsed.GetValue(award), parsed.GetValue(owner)),
                parsed.GetRequiredValue(first), parsed.GetRequiredValue(last),
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
        SeasonReader seasons = new(database, new StationSetupReader(database), new MeasurementReader(database));
        SeasonReportReader reader = new(database, seasons, new SetAsideReader(database));
        (SeasonChoices choices, SeasonScope scope, TimeZoneInfo zone) = await ScopeAsync(database, asked.Part, cancel);
        Season season = SeasonOf(asked);
        console.Progress.Show(0.05);
        SeasonReport report = await reader.ReadAsync(choices, scope, season, asked.AsOf, zone, cancel);
        console.Progress.Show(0.5);
        ReportFrame frame = new(report.Title, asked.Agency, report.Lead(asked.Units), DataFolders.IsDemo(asked.Data));
        string name = string.Create(
            CultureInfo.InvariantCulture, $"season-{(season.IsRange ? $"{season.FirstDay:yyyy-MM-dd}-to-{season.LastDay:yyyy-MM-dd}" : season.Year)}");
        string path = asked.Out ?? (asked.Format == "csv" ? name : $"{name}.{asked.Format}");
        if (asked.Format == "csv")
        {
            Directory.CreateDirectory(path);
            foreach ((int done, string key) in SeasonCsv.TableKeys.Index())
            {
                console.Progress.Show(0.5 + (0.5 * done / SeasonCsv.TableKeys.Count));
                await File.WriteAllBytesAsync(Path.Combine(path, $"{key}.csv"), SeasonCsv.Write(report, key, frame.IsInvented)!, cancel);
            }
        }
        else
        {
            await File.WriteAllBytesAsync(path, Bytes(asked, report, frame, console.Progress), cancel);
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

    private static byte[] Bytes(Asked asked, SeasonReport report, ReportFrame frame, ProgressBar progress) => asked.Format switch
    {
        "pdf" => SeasonPdf.Write(report, asked.Units, frame, done => progress.Show(0.5 + (done / 2))),
        "xlsx" => SeasonWorkbook.Write(report, asked.Units, frame, done => progress.Show(0.5 + (done / 2))),
        "json" => SeasonCsv.Describe(report, frame, key => $"{key}.csv"),
        _ => Encoding.UTF8.GetBytes(SeasonNarrative.Write(report, asked.Units, asked.Agency, frame.IsInvented)),
    };

    private static async Task<(SeasonChoices Choices, SeasonScope Scope, TimeZoneInfo Zone)> ScopeAsync(FleetDatabase database, SeasonPart part, CancellationToken cancel)
    {
        await using FleetDbContext db = database.CreateDbContext();
        SeasonChoices choices = await SeasonChoices.ReadAsync(db, db.Stations, cancel);
        string? zone = await db.Settings.Where(setting => setting.Name == SettingNames.FleetTimeZone).Select(setting => setting.Value).SingleOrDefaultAsync(cancel);
        return part.Stations.FirstOrDefault(code => choices.Stations.All(station => station.Code != code)) is { } unknown
            ? throw new VerbFailure(ExitCodes.WrongUse, $"There is no station {unknown} in {database.Path}.")
            : choices.Pick(part) is not { } scope
                ? throw new VerbFailure(ExitCodes.WrongUse, $"There is no station of this access, award and owner in {database.Path}.")
                : (choices, scope, zone is null ? TimeZoneInfo.Utc : TimeZoneInfo.FindSystemTimeZoneById(zone));
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
