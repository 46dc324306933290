using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Storage.Tests.Telemetry;

/// <summary>The same invented days through the real writer into a real file: cut into reports, out of order, some of them twice.</summary>
public sealed class CounterTruthStorageTests(FleetDatabaseFile file) : IClassFixture<FleetDatabaseFile>
{
    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task Stored_hours_say_the_truth_whatever_the_cutting_the_order_and_the_repetition()
    {
        Access access = await file.AddAccessAsync();
        int checkedOnes = 0;
        for (int seed = 0; checkedOnes < 60; seed++)
        {
            CounterTruth truth = new(seed);
            if (truth.IsHidden || !truth.IsReadOftenEnough)
            {
                continue;
            }

            Station station = await AddStationAsync(access, seed, truth.Width);
            await SendAsync(station, truth, new Random(seed));

            IReadOnlyList<SeriesHour> hours = await file.Reader.HoursAsync(
                station.Id, [MeasurementName.Uses("vacuum")], CounterTruth.Start.AddDays(-1), CounterTruth.Start.AddDays(3), _cancel);
            hours.ToDictionary(hour => hour.RollUp.Key.Start, hour => Expected(hour.RollUp.Figures))
                .Should().BeEquivalentTo(truth.HoursExpected(), $"the seed was {seed}");
            (await new RollUpVerifier(file.Database).VerifyAsync(station.Id, _cancel)).Should().BeEmpty($"the seed was {seed}");
            checkedOnes++;
        }
    }

    private async Task<Station> AddStationAsync(Access access, int seed, double? width)
    {
        Station station = await file.AddStationAsync(FormattableString.Invariant($"TRUE-{seed}"));
        await file.AddPlacementAsync(station, access);
        await file.AddAsync(new Tool
        {
            StationId = station.Id, Slug = "vacuum", Name = "Vacuum", Installed = FleetBuilders.Created, UsesWrapAt = width,
        });
        return station;
    }

    private async Task SendAsync(Station station, CounterTruth truth, Random dice)
    {
        Measurement[] all =
        [
            .. truth.Readings.Select(reading => new Measurement(MeasurementName.Uses("vacuum"), reading.At, reading.Value)),
            .. truth.Uptimes.Select(reading => new Measurement(MeasurementName.ControllerUptime, reading.At, reading.Value)),
        ];

        // In order as a live station sends, in blocks as one that catches up, or wildly.
        int disorder = dice.Next(3);
        Measurement[] order = disorder == 2 ? [.. all] : [.. all.OrderBy(measurement => measurement.At)];
        if (disorder == 2)
        {
            dice.Shuffle(order);
        }

        List<Measurement[]> reports = [];
        for (int taken = 0; taken < order.Length; taken += reports[^1].Length)
        {
            reports.Add([.. order.Skip(taken).Take(dice.Next(1, 15))]);
        }

        if (disorder == 1)
        {
            reports = [.. reports.Chunk(3).Reverse().SelectMany(block => block)];
        }

        reports.AddRange([.. reports.Where(_ => dice.Next(4) == 0)]);

        // Some alone, some together, so that one transaction holds several.
        foreach (Measurement[][] together in reports.Chunk(dice.Next(1, 5)))
        {
            WriteOutcome[] outcomes = await Task.WhenAll(together.Select(report => file.Writer.WriteAsync(FleetBuilders.Report(station, report), _cancel)));
            outcomes.Should().AllBeOfType<WriteOutcome.Stored>();
        }
    }

    private static CounterTruth.Hour Expected(RollUpFigures figures) =>
        new(figures.Known, figures.AcrossHours, figures.AcrossDays, figures.Uncertain);
}
