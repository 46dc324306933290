using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Tests.Watch;

public sealed class PumpOutTests
{
    private static readonly TimeSpan Five = TimeSpan.FromMinutes(5);

    [Fact]
    public void A_fall_that_five_readings_confirm_is_one_pump_out_from_top_to_bottom()
    {
        WatchedStation station = new();
        Say(station, 0.84, 0.84, 0.84, 0.84, 0.84);
        DateTimeOffset fell = station.Now + Five;

        Say(station, 0.60, 0.25, 0.02, 0.02, 0.03, 0.02);
        station.PumpOuts.Should().BeEmpty("four low readings may be false ones");
        Say(station, 0.02);

        station.PumpOuts.Should().ContainSingle().Which.Should().Match<PumpOutSeen>(seen => seen.At == fell && seen.Before.Share == 0.84 && seen.After.Share == 0.02);
        station.Facts.Tank.Level!.Share.Should().Be(0.02);
    }

    [Fact]
    public void A_few_low_readings_are_no_pump_out_when_they_go_away()
    {
        WatchedStation station = new();

        Say(station, 0.84, 0.84, 0.84, 0.84, 0.84, 0.02, 0.02, 0.02, 0.84, 0.02, 0.84, 0.84, 0.02, 0.84, 0.85);

        station.PumpOuts.Should().BeEmpty();
        station.Facts.Tank.Level!.Share.Should().Be(0.84);
    }

    [Fact]
    public void Half_an_hour_of_high_readings_moves_nothing_and_is_no_pump_out_when_it_goes_away()
    {
        WatchedStation station = new();

        Say(station, [.. Enumerable.Repeat(0.40, 15), .. Enumerable.Repeat(0.99, 7)]);
        station.Facts.Tank.Level!.Share.Should().Be(0.40);
        Say(station, [.. Enumerable.Repeat(0.40, 6)]);

        station.PumpOuts.Should().BeEmpty();
    }

    [Fact]
    public void A_rise_that_stays_is_the_level_within_the_hour()
    {
        WatchedStation station = new();

        Say(station, [.. Enumerable.Repeat(0.40, 15), .. Enumerable.Repeat(0.50, 11)]);

        station.Facts.Tank.Level!.Share.Should().Be(0.50);
    }

    [Theory]
    [InlineData(0.75, false)]
    [InlineData(0.74, true)]
    public void A_fall_counts_from_a_tenth_of_the_capacity_on(double after, bool isPumpOut)
    {
        WatchedStation station = new();

        Say(station, [.. Enumerable.Repeat(0.84, 5), .. Enumerable.Repeat(after, 5)]);

        (station.PumpOuts.Count == 1).Should().Be(isPumpOut);
    }

    [Fact]
    public void A_station_that_reports_once_an_hour_needs_three_low_readings()
    {
        WatchedStation station = new();
        foreach (double share in (double[])[0.84, 0.84, 0.84, 0.84, 0.84, 0.02, 0.02, 0.02])
        {
            station.PumpOuts.Should().BeEmpty();
            station.Pass(TimeSpan.FromHours(1)).Report(("tank/fill", share));
        }

        station.PumpOuts.Should().ContainSingle();
    }

    [Fact]
    public void A_pump_out_in_small_steps_is_seen_all_the_same()
    {
        WatchedStation station = new();

        Say(station, [.. Enumerable.Repeat(0.84, 5), 0.77, 0.70, 0.63, 0.56, .. Enumerable.Repeat(0.50, 5)]);

        station.PumpOuts.Should().ContainSingle().Which.After.Share.Should().Be(0.50);
    }

    [Fact]
    public void The_mean_inflow_is_that_of_whole_days_and_knows_of_pump_outs()
    {
        WatchedStation station = new();
        double share = 0.30;
        for (int quarter = 0; quarter < 5 * 96; quarter++)
        {
            // 9.6 % a day; the tank is emptied at noon of the third day.
            share = quarter == 216 ? 0 : share + 0.001;
            station.Pass(TimeSpan.FromMinutes(15)).Report(("tank/fill", share));
        }

        station.PumpOuts.Should().ContainSingle();
        station.Facts.Tank.DailyRises.Count(rise => rise >= 0).Should().Be(4, "the first day is not whole");
        station.Facts.Tank.MeanDailyRise().Should().BeApproximately(0.096, 0.003);
    }

    private static void Say(WatchedStation station, params double[] shares)
    {
        foreach (double share in shares)
        {
            station.Pass(Five).Report(("tank/fill", share));
        }
    }
}
