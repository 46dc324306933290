using System.CommandLine;
using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quality;

namespace StationFleet.Cli;

/// <summary><c>stationfleet quality</c>: tries the rules on many invented seasons and tells how good they are.</summary>
internal static class QualityVerb
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase), new FiniteOrNull() },
    };

    public static Command Make()
    {
        Option<string> seeds = Choice("--seeds", "Which seasons: tuning for choosing methods, the others for telling how good they are.", "tuning", "tuning", "held-out", "held-out-2", "held-out-3");
        Option<string> level = Choice("--level", "How busy the station is.", "all", "all", "quiet", "middling", "busy");
        Option<string> world = Choice("--world", "How unruly it is.", "usual", "usual", "harder");
        Option<string> people = Choice("--people", "Who answers tickets.", "technician", "technician", "nobody");
        Option<int?> seasons = new("--seasons") { Description = "Only the first so many station-seasons of each list." };
        Option<FileInfo> output = new("--out") { Description = "A JSON file to write beside the tables." };
        Command command = new("quality", "Try the rules on many invented seasons with known faults; prints tables in Markdown.")
        {
            seeds, level, world, people, seasons, output,
        };
        command.SetAction((parsed, cancel) => Verbs.RunAsync(parsed, console => TellAsync(
            console,
            parsed.GetValue(seeds) switch { "tuning" => SeedSet.Tuning, "held-out" => SeedSet.HeldOut, "held-out-2" => SeedSet.SecondHeldOut, _ => SeedSet.ThirdHeldOut },
            parsed.GetValue(level) is "all" ? Enum.GetValues<TrafficLevel>() : [Enum.Parse<TrafficLevel>(parsed.GetValue(level)!, ignoreCase: true)],
            Enum.Parse<SimulatedWorldKind>(parsed.GetValue(world)!, ignoreCase: true),
            Enum.Parse<QualityPeople>(parsed.GetValue(people)!, ignoreCase: true),
            parsed.GetValue(seasons),
            parsed.GetValue(output),
            cancel)));
        return command;
    }

    private static async Task TellAsync(
        VerbConsole console,
        SeedSet set,
        TrafficLevel[] levels,
        SimulatedWorldKind world,
        QualityPeople people,
        int? count,
        FileInfo? output,
        CancellationToken cancel)
    {
        if (count < 3)
        {
            throw new VerbFailure(ExitCodes.WrongUse, "At least 3 seasons are needed: the first of each three is healthy.");
        }

        List<QualityScore> scores = [];
        for (int i = 0; i < levels.Length; i++)
        {
            QualitySeason[] seasons = [.. QualitySeeds.Of(set, levels[i]).Take(count ?? int.MaxValue)];
            double share = i;
            QualityScore score = Try(seasons, world, people, done => console.Progress.Show((share + done) / levels.Length), cancel);
            scores.Add(score);
            await console.Output.WriteLineAsync(QualityTable.Write(score));
        }

        console.Progress.Done();
        if (output is not null)
        {
            output.Directory?.Create();
            await File.WriteAllTextAsync(output.FullName, JsonSerializer.Serialize(new { Seeds = set, World = world, People = people, Scores = scores }, Json) + "\n", cancel);
        }
    }

    private static QualityScore Try(
        QualitySeason[] seasons, SimulatedWorldKind world, QualityPeople people, Action<double> onDone, CancellationToken cancel)
    {
        SeasonOutcome[] outcomes = new SeasonOutcome[seasons.Length];
        FixedLimits[] limits = new FixedLimits[seasons.Length];
        int done = 0;
        Lock showing = new();
        Parallel.For(0, seasons.Length, new ParallelOptions { CancellationToken = cancel, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            outcomes[i] = SeasonRun.Of(seasons[i], world, people);
            limits[i] = FixedLimits.Of(seasons[i], world);
            lock (showing)
            {
                onDone(++done / (double)seasons.Length);
            }
        });
        return QualityScore.Of(outcomes, limits);
    }

    private static Option<string> Choice(string name, string description, string usual, params string[] choices)
    {
        Option<string> option = new(name) { Description = $"{description} Usual: {usual}.", DefaultValueFactory = _ => usual };
        option.AcceptOnlyFromAmong(choices);
        return option;
    }
}
