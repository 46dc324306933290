using System.CommandLine;
using System.Globalization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Cli;

/// <summary><c>stationfleet trial</c>: every ticket that the rules would have raised over recorded measurements.</summary>
internal static class TrialVerb
{
    private static readonly TimeSpan Day = TimeSpan.FromDays(1);

    public static Command Make()
    {
        Option<FileInfo> fleet = new("--fleet") { Description = "The fleet file.", Required = true };
        Option<DirectoryInfo> telemetry = new("--telemetry")
        {
            Description = "A folder of long CSV files: one named CODE.csv for each station, or files with a column 'station'; events.csv, if there, tells what people did.",
            Required = true,
        };
        Option<FileInfo> output = new("--out") { Description = "The file to write.", Required = true };
        Option<DateOnly?> from = new("--from") { Description = "The first local day that is judged; else each station's first report.", CustomParser = a => Arguments.Day(a) };
        Option<DateOnly?> to = new("--to") { Description = "The last local day that is judged; else the last report of all.", CustomParser = a => Arguments.Day(a) };
        Option<double> every = new("--every") { Description = "Minutes between the fixed instants of judging.", DefaultValueFactory = _ => 5 };
        Command command = new("trial", "Try the rules on recorded measurements: every ticket that they would have raised, with the mails.")
        {
            fleet, telemetry, output, from, to, every,
        };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => TryAsync(
            console,
            FleetFiles.Load(parsed.GetRequiredValue(fleet)),
            parsed.GetRequiredValue(telemetry),
            parsed.GetRequiredValue(output),
            (parsed.GetValue(from), parsed.GetValue(to)),
            parsed.GetValue(every),
            cancel)));
        return command;
    }

    private static async Task TryAsync(
        VerbConsole console,
        FleetFile fleet,
        DirectoryInfo telemetry,
        FileInfo output,
        (DateOnly? From, DateOnly? To) days,
        double everyMinutes,
        CancellationToken cancel)
    {
        if (!telemetry.Exists)
        {
            throw new VerbFailure(ExitCodes.WrongUse, $"There is no folder {telemetry.FullName}.");
        }

        if (days.To < days.From)
        {
            throw new VerbFailure(ExitCodes.WrongUse, "The last day lies before the first.");
        }

        if (everyMinutes is not (>= 1 and <= 1440))
        {
            throw new VerbFailure(ExitCodes.WrongUse, "The instants of judging must lie 1 to 1440 minutes apart.");
        }

        TelemetryFolder recorded = TelemetryFolder.In(telemetry, fleet);
        string events = Path.Combine(telemetry.FullName, EventsCsv.FileName);
        ILookup<string, TrialEvent> doings = File.Exists(events) ? EventsCsv.Read(events) : Enumerable.Empty<TrialEvent>().ToLookup(_ => "");
        DateTimeOffset? first = days.From is { } from ? LocalCalendar.StartOf(from, fleet.Zone) : null;
        DateTimeOffset? until = days.To is { } to ? LocalCalendar.StartOf(to.AddDays(1), fleet.Zone) : recorded.LastReceived();
        List<TrialFile.Station> stations = [];
        List<PastTicket> tickets = [];
        List<TrialFile.Sighting> noticed = [];
        IReadOnlyList<FleetStation> tried = recorded.Stations;
        for (int i = 0; i < tried.Count && until is not null; i++)
        {
            FleetStation station = tried[i];
            RecordedReports reports = RecordedReports.Of(recorded.RowsOf(station), station.Created);
            DateTimeOffset begin = first ?? (reports.Reports.Count > 0 ? reports.Reports[0].Received : until.Value);
            StationTrial trial = Begin(fleet, station, begin, TimeSpan.FromMinutes(everyMinutes), doings[station.Code]);
            double share = i;
            Run(trial, reports.Reports, (begin, until.Value), done => console.Progress.Show((share + done) / tried.Count), cancel);
            tickets.AddRange(trial.Tickets);
            noticed.AddRange(trial.Noticed.Select(problem => TrialFile.Of(problem, station.Code, fleet)));
            stations.Add(new TrialFile.Station(
                station.Code,
                begin,
                until.Value,
                reports.Reports.Count,
                reports.Measurements,
                reports.SetAside,
                reports.BeforeCreated,
                UnknownNames(reports.Reports),
                trial.EventsWithoutTicket));
        }

        List<string> leftOut = [.. recorded.LeftOut, .. doings.Select(group => group.Key).Where(code => tried.All(s => !s.Has(code)))
            .Select(code => $"{EventsCsv.FileName} names {code}, of which nothing is tried.")];
        TrialFile file = new(
            fleet.Name,
            fleet.Notice,
            stations.Count == 0 ? null : stations.Min(station => station.From),
            until,
            everyMinutes,
            stations,
            leftOut,
            [.. tickets.OrderBy(ticket => ticket.Raised).ThenBy(ticket => ticket.Station, StringComparer.Ordinal)
                .Select((ticket, i) => TrialFile.Of(ticket, i + 1, fleet, until!.Value))],
            [.. noticed.OrderBy(notice => notice.Since).ThenBy(notice => notice.Station, StringComparer.Ordinal)]);
        output.Directory?.Create();
        await File.WriteAllTextAsync(output.FullName, file.ToJson() + "\n", cancel);
        console.Progress.Show(1);
        console.Progress.Done();
        foreach (string left in leftOut)
        {
            await console.Output.WriteLineAsync(left);
        }

        await console.Output.WriteLineAsync(Summary(file, output));
    }

    private static StationTrial Begin(
        FleetFile fleet, FleetStation station, DateTimeOffset begin, TimeSpan every, IEnumerable<TrialEvent> doings)
    {
        StationTrial trial = new(TrialSetup.Of(fleet, station.Code), begin, every);
        foreach (TrialEvent doing in doings)
        {
            trial.Plan(doing);
        }

        return trial;
    }

    private static void Run(
        StationTrial trial, IReadOnlyList<WatchReport> reports, (DateTimeOffset From, DateTimeOffset To) span, Action<double> onDone, CancellationToken cancel)
    {
        int taken = 0;
        for (DateTimeOffset now = span.From; now < span.To;)
        {
            cancel.ThrowIfCancellationRequested();
            now = now + Day < span.To ? now + Day : span.To;
            int end = taken;
            while (end < reports.Count && reports[end].Received <= now)
            {
                end++;
            }

            trial.Run([.. reports.Skip(taken).Take(end - taken)], now);
            taken = end;
            onDone((now - span.From) / (span.To - span.From));
        }
    }

    private static List<string> UnknownNames(IReadOnlyList<WatchReport> reports) =>
    [
        .. reports.SelectMany(report => report.Measurements).Select(measurement => measurement.Name).Distinct()
            .Where(name => MeasurementTable.Find(name) is null).Order(StringComparer.Ordinal),
    ];

    private static string Summary(TrialFile file, FileInfo output) => string.Create(
        CultureInfo.InvariantCulture,
        $"{Count(file.Tickets.Count, "ticket")} at {Count(file.Stations.Count, "station")}, {Count(file.Tickets.Sum(ticket => ticket.Mails.Count), "mail")}; written to {output.FullName}.");

    private static string Count(int count, string what) => string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");
}
