using CsCheck;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Telemetry;

/// <summary>Counters against invented days in which every use is known.</summary>
public sealed class CounterTruthTests
{
    private static readonly TimeZoneInfo Boise = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");

    private static readonly Whereabouts Placed = new(
        [new Stay(new PlacementId(1), CounterTruth.Start.AddDays(-9), null, Boise)], TimeZoneInfo.Utc);

    [Fact]
    public void Hours_say_the_true_uses_where_the_readings_determine_them_and_are_uncertain_where_not() =>
        Knowable(truth =>
        {
            IReadOnlyList<HourRollUp> hours = HoursOf(truth, truth.Readings, null);

            hours.ToDictionary(hour => hour.Key.Start, hour => Expected(hour.Figures)).Should().BeEquivalentTo(truth.HoursExpected());
        });

    [Fact]
    public void The_sum_is_the_true_number_of_uses_or_less_with_a_mark() => Knowable(truth =>
    {
        IReadOnlyList<HourRollUp> hours = HoursOf(truth, truth.Readings, null);

        double sum = hours.Sum(hour => hour.Figures.Gained);
        if (hours.Sum(hour => hour.Figures.Uncertain) == 0)
        {
            sum.Should().Be(truth.UsesInAll);
        }
        else
        {
            sum.Should().BeLessThanOrEqualTo(truth.UsesInAll);
        }
    });

    [Fact]
    public void Hours_are_the_same_however_the_readings_are_cut_into_stretches() =>
        Gen.Select(Gen.Int, Gen.Int[0, 36]).Sample((seed, cut) =>
        {
            CounterTruth truth = new(seed);
            DateTimeOffset at = CounterTruth.Start.AddHours(cut);
            Reading[] early = [.. truth.Readings.Where(reading => reading.At <= at)];
            Reading[] late = [.. truth.Readings.Where(reading => reading.At > at)];

            IEnumerable<HourRollUp> parts = HoursOf(truth, early, null).Concat(HoursOf(truth, late, early.Length == 0 ? null : early[^1]));

            parts.Should().Equal(HoursOf(truth, truth.Readings, null));
        });

    private static void Knowable(Action<CounterTruth> check)
    {
        int checkedOnes = 0;
        for (int seed = 0; seed < 3000; seed++)
        {
            CounterTruth truth = new(seed);
            if (truth is { IsHidden: false, IsReadOftenEnough: true })
            {
                check(truth);
                checkedOnes++;
            }
        }

        checkedOnes.Should().BeGreaterThan(1500, "most invented days must be knowable, else nothing is tested");
    }

    private static IReadOnlyList<HourRollUp> HoursOf(CounterTruth truth, IEnumerable<Reading> readings, Reading? previous) => HourRollUp.Of(
        readings, previous, new SeriesNature(SeriesKind.Counter, truth.Width), Placed, new UptimeLog(truth.Uptimes));

    private static CounterTruth.Hour Expected(RollUpFigures figures) =>
        new(figures.Known, figures.AcrossHours, figures.AcrossDays, figures.Uncertain);
}
