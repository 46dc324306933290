using CsCheck;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class FactsOrderTests
{
    private static readonly StationSetup Setup = With(
        quiet: [Quiet(QuietReason.AccessClosed, Start + TimeSpan.FromHours(30), Start + TimeSpan.FromHours(50))],
        tools: [Tool("brush"), Tool("vacuum", Start + TimeSpan.FromHours(20)), Tool("wrench")]);

    [Fact]
    public void Any_order_of_arrival_gives_the_same_facts_checkpoints_and_pump_outs()
    {
        Gen.Select(Gen.UInt, Gen.Int[8, 60]).Sample((seed, packSize) =>
        {
            Random random = new((int)(seed % int.MaxValue));
            Measurement[] measured = Days(random, 3);
            WatchReport[] inOrder = [.. measured.Chunk(packSize).Select(pack => new WatchReport(Start + TimeSpan.FromDays(5), pack))];
            Measurement[] shuffled = [.. measured];
            random.Shuffle(shuffled);
            WatchReport[] anyOrder = [.. shuffled.Chunk(packSize).Select((pack, i) => new WatchReport(Start + TimeSpan.FromDays(5).Add(TimeSpan.FromMinutes(i)), pack))];

            (StationFacts facts, string checkpoints, string pumpOuts) = Fold(inOrder);
            (StationFacts otherFacts, string otherCheckpoints, string otherPumpOuts) = Fold(anyOrder);

            WatchJson.Write(otherFacts).Should().Be(WatchJson.Write(facts));
            otherCheckpoints.Should().Be(checkpoints);
            otherPumpOuts.Should().Be(pumpOuts);
        }, iter: 60, seed: "0N0XIzNsQ0O2");
    }

    [Fact]
    public void A_measurement_sent_twice_is_taken_once_and_the_first_value_stays()
    {
        DateTimeOffset at = Start + TimeSpan.FromHours(1);
        WatchedStation station = new();
        station.Pass(TimeSpan.FromHours(1)).Report(at, ("tools/brush/uses", 5));
        station.Pass(TimeSpan.FromMinutes(5)).Report(("tools/brush/uses", 7));

        station.Pass(TimeSpan.FromMinutes(5)).Report(at, ("tools/brush/uses", 6));

        station.Facts.Tools["tools/brush/uses"].Last!.Value.Value.Should().Be(7);
        station.Facts.Sessions.LastAt.Should().BeNull("the two readings lie far apart, and are counted when the day goes on");
    }

    [Fact]
    public void Facts_and_slots_survive_their_json()
    {
        WatchEngine engine = new(Setup, WatchState.StartingAt(Start), TimeSpan.FromMinutes(5));
        engine.Run([.. Days(new Random(7), 12).Chunk(20).Select(pack => new WatchReport(pack.Max(m => m.At), pack))], Start + TimeSpan.FromDays(13), new WatchHistory(null, [], []));

        string json = WatchJson.Write(engine.State);

        WatchJson.Write(WatchJson.Read<WatchState>(json)).Should().Be(json);
        json.Length.Should().BeLessThan(7000, "the state is written after every run");
    }

    private static (StationFacts Facts, string Checkpoints, string PumpOuts) Fold(WatchReport[] reports)
    {
        WatchEngine engine = new(Setup, WatchState.StartingAt(Start + TimeSpan.FromDays(5)), TimeSpan.FromDays(1));
        WatchHistory history = new(null, [], []);
        SortedDictionary<DateOnly, string> checkpoints = [];
        SortedDictionary<DateTimeOffset, string> pumpOuts = [];
        foreach (WatchReport report in reports)
        {
            WatchResult result = engine.Run([report], report.Received, history);
            foreach (DateTimeOffset replaced in pumpOuts.Keys.Where(at => at >= result.PumpOutsFrom).ToList())
            {
                pumpOuts.Remove(replaced);
            }

            result.Checkpoints.Select(checkpoint => checkpoint.Day).Should().OnlyHaveUniqueItems();
            foreach (FactsCheckpoint checkpoint in result.Checkpoints)
            {
                checkpoints[checkpoint.Day] = WatchJson.Write(checkpoint);
            }

            foreach (PumpOutSeen seen in result.PumpOuts)
            {
                pumpOuts.Add(seen.At, seen.ToString());
            }
        }

        return (engine.State.Facts, string.Join('\n', checkpoints.Values), string.Join('\n', pumpOuts.Values));
    }

    // Uses, restarts, a filling tank that is emptied now and then, false readings of it, and gaps.
    private static Measurement[] Days(Random random, int days)
    {
        List<Measurement> measured = [];
        Dictionary<string, double> totals = new() { ["brush"] = 100, ["vacuum"] = 10, ["wrench"] = 3 };
        (double fill, double uptime) = (0.3, 40_000);
        for (DateTimeOffset at = Start; at < Start + TimeSpan.FromDays(days); at += TimeSpan.FromMinutes(30))
        {
            if (random.Next(40) == 0)
            {
                uptime = 0;
                totals = totals.ToDictionary(total => total.Key, _ => 0.0);
            }

            fill = random.Next(60) == 0 ? 0.02 : fill + (0.02 * random.NextDouble());
            uptime += 1800;
            foreach (string tool in totals.Keys.ToList())
            {
                totals[tool] += random.Next(3) == 0 ? random.Next(4) : 0;
                Add(MeasurementName.Uses(tool), totals[tool]);
            }

            Add(MeasurementName.TankFill, random.Next(30) == 0 ? random.NextDouble() : fill);
            Add(MeasurementName.BatteryCharge, 0.4 + (0.5 * random.NextDouble()));
            Add(MeasurementName.ControllerUptime, uptime);

            void Add(string name, double value)
            {
                if (random.Next(10) > 0)
                {
                    measured.Add(new Measurement(name, at, value));
                }
            }
        }

        return [.. measured];
    }
}
