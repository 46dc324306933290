using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class TankSensorTests
{
    private static readonly TimeSpan Five = TimeSpan.FromMinutes(5);
    private readonly Random _noise = new(20260601);
    private double _uses;

    [Fact]
    public void A_value_that_stands_still_while_the_vacuum_is_used_raises_a_ticket()
    {
        WatchedStation station = new(Vacuum());
        Pass(station, hours: 24 * 5, level: hour => 0.02 + (0.02 * hour / 8), usesPerHour: 0.125);

        Pass(station, hours: 3, level: _ => 0.32, usesPerHour: 3, isStill: true);

        Problem still = station.Find(Rule.TankSensor, TankSensor.Still)!;
        still.Urgency.Should().Be(Urgency.NeedsVisit);
        still.Evidence.Should().BeOfType<TankStillEvidence>().Which.MissedLitres.Should().BeGreaterThan(TankSensor.LitresMissed);

        Pass(station, hours: 1, level: _ => 0.42);
        station.Find(Rule.TankSensor, TankSensor.Still).Should().BeNull("it moves again");
    }

    [Fact]
    public void A_value_that_stands_still_while_nobody_uses_the_vacuum_is_no_sign()
    {
        WatchedStation station = new(Vacuum());
        Pass(station, hours: 30, level: _ => 0.30);

        Pass(station, hours: 12, level: _ => 0.30, isStill: true);

        station.Find(Rule.TankSensor, TankSensor.Still).Should().BeNull();
    }

    [Fact]
    public void A_coarse_sensor_that_often_repeats_itself_is_given_more_time()
    {
        WatchedStation station = new(Vacuum());
        Pass(station, hours: 30, level: hour => Math.Round(0.30 + (0.01 * hour), 2), isStill: true);

        Pass(station, hours: 2, level: _ => 0.60, usesPerHour: 3, isStill: true);

        station.Find(Rule.TankSensor, TankSensor.Still).Should().BeNull("twelve equal values in a row are usual here");
    }

    [Fact]
    public void A_level_that_does_not_rise_in_a_day_of_use_raises_one_too_even_when_the_sensor_trembles()
    {
        WatchedStation station = new(Vacuum());
        Pass(station, hours: 24 * 6, level: hour => 0.02 + (0.02 * hour / 8), usesPerHour: 0.125);

        Pass(station, hours: 30, level: _ => 0.38, usesPerHour: 2);
        Pass(station, hours: 3, level: _ => 0.38);

        station.Find(Rule.TankSensor, TankSensor.Still).Should().NotBeNull();
    }

    [Fact]
    public void Many_jumps_to_other_levels_and_back_raise_one_and_a_boat_that_fills_the_tank_does_not()
    {
        WatchedStation station = new(Vacuum());
        Pass(station, hours: 24, level: hour => 0.20 + (0.07 * Math.Floor(hour / 4)));
        station.Find(Rule.TankSensor, TankSensor.Jumping).Should().BeNull("six boats brought 7 % each");

        for (int jump = 0; jump < 12; jump++)
        {
            Pass(station, hours: 0.5, level: _ => 0.55);
            station.Pass(Five);
            Report(station, 0.07 * jump, isStill: false);
        }

        station.Find(Rule.TankSensor, TankSensor.Jumping)!.Evidence.Should().BeOfType<TankJumpingEvidence>();
        Pass(station, hours: 24, level: _ => 0.55);
        station.Find(Rule.TankSensor, TankSensor.Jumping).Should().BeNull("it has been calm for a day");
    }

    [Theory]
    [InlineData(-0.03)]
    [InlineData(0.03)]
    public void A_level_that_creeps_while_nobody_uses_anything_raises_one_within_a_week(double perDay)
    {
        WatchedStation station = new(Vacuum());

        Pass(station, hours: 24 * 7, level: hour => 0.50 + (perDay * hour / 24));

        TankCreepEvidence creep = station.Find(Rule.TankSensor, TankSensor.Creeping)!.Evidence.Should().BeOfType<TankCreepEvidence>().Subject;
        creep.LitresPerDay.Should().BeApproximately(perDay * 208.2, 2);
    }

    [Fact]
    public void A_month_of_a_sound_sensor_raises_nothing_and_who_saw_to_it_is_not_asked_again()
    {
        WatchedStation station = new(Vacuum());
        Pass(station, hours: 24 * 30, level: _ => 0.50);
        station.Problems.Should().BeEmpty();

        DateTimeOffset seen = Start.AddDays(7);
        station = new(Vacuum() with { Service = new ServiceLog([], [new TicketFinding(Rule.TankSensor, TankSensor.Creeping, seen, WasFine: false)]) });
        Pass(station, hours: 24 * 7.2, level: hour => 0.50 - (0.03 * Math.Min(hour, 24 * 7) / 24));
        station.Find(Rule.TankSensor, TankSensor.Creeping).Should().BeNull();
    }

    [Fact]
    public void The_sentences_say_what_the_numbers_mean()
    {
        Reader reader = new(UnitSystem.UsCustomary, Boise, Start.AddHours(6));

        Say(new TankStillEvidence(Start, 40 * Units.LitresPerUsGallon, 5 * Units.LitresPerUsGallon)).Should().Be(
            "The tank's sensor has said 40 gal since Monday 06:00, while the uses since then should have added about 5 gal. It stands still, or the vacuum draws nothing.");
        Say(new TankCreepEvidence(-2 * Units.LitresPerUsGallon, 3)).Should().Be(
            "The tank's level falls by 2 gal a day when nobody uses anything, over 3 nights: a leak, a siphon, or a sensor that drifts.");
        Say(new TankJumpingEvidence(8, Start)).Should().Be(
            "The tank's sensor jumped to other levels and back 8 times within about nine hours, last Monday 06:00. Something hangs in its way, or its wire is loose.");

        string Say(Evidence evidence) => ProblemSentences.Sentence(evidence, Urgency.NeedsVisit, reader);
    }

    private static StationSetup Vacuum() => With(tools: [new ToolSetup("vacuum", ToolKind.Vacuum, "Wet vacuum", Start, null)]);

    // A trembling sensor, as they do, unless it stands still.
    private void Report(WatchedStation station, double share, bool isStill) =>
        station.Report(("tank/fill", isStill ? share : Math.Round(share + (0.004 * (_noise.NextDouble() + _noise.NextDouble() - 1)), 4)), ("tools/vacuum/uses", Math.Floor(_uses)));

    private void Pass(WatchedStation station, double hours, Func<double, double> level, double usesPerHour = 0, bool isStill = false)
    {
        for (int step = 0; step < hours * 12; step++)
        {
            _uses += usesPerHour / 12;
            station.Pass(Five);
            Report(station, level(step / 12.0), isStill);
        }
    }
}
