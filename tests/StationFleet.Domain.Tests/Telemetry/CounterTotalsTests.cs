using CsCheck;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Telemetry;

public sealed class CounterTotalsTests
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 8, 18, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Between_takes_the_difference_while_the_total_does_not_fall() =>
        Between(100, 107).Should().Be(new CounterIncrement(7, IsUncertain: false));

    [Fact]
    public void Between_calls_a_fall_without_a_declared_width_a_restart_and_counts_the_least() =>
        Between(100, 4).Should().Be(new CounterIncrement(4, IsUncertain: true));

    [Fact]
    public void Between_calls_a_fall_across_the_end_of_a_declared_width_a_wrap() =>
        Between(65_530, 10, wrapsAt: 65_536).Should().Be(new CounterIncrement(16, IsUncertain: false));

    [Theory]
    [InlineData(58_982, 10)] // the old total is not above 90 % of 65,536
    [InlineData(65_530, 6_554)] // the new one is not below 10 %
    public void Between_calls_any_other_fall_a_restart_even_with_a_declared_width(double old, double now) =>
        Between(old, now, wrapsAt: 65_536).Should().Be(new CounterIncrement(now, IsUncertain: true));

    [Fact]
    public void Between_believes_the_uptime_when_the_total_rose_across_a_restart() =>
        Between(3, 5, bootedAt: Noon.AddMinutes(2)).Should().Be(new CounterIncrement(5, IsUncertain: true));

    [Fact]
    public void Between_believes_the_uptime_when_a_fall_looks_like_a_wrap() =>
        Between(65_530, 10, bootedAt: Noon.AddMinutes(2), wrapsAt: 65_536).Should().Be(new CounterIncrement(10, IsUncertain: true));

    [Theory]
    [InlineData(0, false)] // a start at the earlier reading is what that reading already counts from
    [InlineData(5, true)]
    [InlineData(6, false)]
    [InlineData(-60, false)]
    public void Between_looks_for_a_start_after_the_earlier_reading_up_to_the_later(int minutesAfterNoon, bool restarted) =>
        Between(3, 5, bootedAt: Noon.AddMinutes(minutesAfterNoon)).IsUncertain.Should().Be(restarted);

    [Fact]
    public void Between_adds_up_to_the_last_reading_less_the_first_while_nothing_restarts() =>
        Gen.Int[0, 1000].Array[2, 50].Sample(gains =>
        {
            List<Reading> readings = [];
            double total = 0;
            foreach (int gain in gains)
            {
                readings.Add(new Reading(Noon.AddMinutes(5 * readings.Count), total += gain));
            }

            IEnumerable<CounterIncrement> increments = readings.Zip(readings.Skip(1), (a, b) => CounterTotals.Between(a, b, null, null));

            increments.Sum(increment => increment.Amount).Should().Be(gains.Skip(1).Sum());
        });

    [Fact]
    public void BootKnownAt_asks_the_first_uptime_at_or_after_the_instant()
    {
        UptimeLog log = new([new Reading(Noon, 600), new Reading(Noon.AddHours(1), 60)]);

        log.BootKnownAt(Noon.AddMinutes(-1)).Should().Be(Noon.AddMinutes(-10));
        log.BootKnownAt(Noon).Should().Be(Noon.AddMinutes(-10));
        log.BootKnownAt(Noon.AddMinutes(1)).Should().Be(Noon.AddMinutes(59));
        log.BootKnownAt(Noon.AddHours(2)).Should().BeNull();
        UptimeLog.Empty.BootKnownAt(Noon).Should().BeNull();
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(1e300)]
    public void BootKnownAt_does_not_believe_a_broken_uptime(double seconds) =>
        new UptimeLog([new Reading(Noon, seconds)]).BootKnownAt(Noon).Should().BeNull();

    private static CounterIncrement Between(double old, double now, DateTimeOffset? bootedAt = null, double? wrapsAt = null) =>
        CounterTotals.Between(new Reading(Noon, old), new Reading(Noon.AddMinutes(5), now), bootedAt, wrapsAt);
}
