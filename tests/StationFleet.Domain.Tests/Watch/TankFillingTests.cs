using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using static StationFleet.Domain.Tests.Watch.WatchedStation;

namespace StationFleet.Domain.Tests.Watch;

public sealed class TankFillingTests
{
    private static readonly TimeSpan Quarter = TimeSpan.FromMinutes(15);

    [Fact]
    public void The_limit_of_the_fill_raises_a_ticket_whatever_is_forecast_and_a_false_reading_does_not()
    {
        WatchedStation station = new();

        Say(station, 0.75, 0.75, 0.99, 0.75, 0.75, 0.98, 0.75);
        station.Problems.Should().BeEmpty("two high readings of seven are false echoes");

        Say(station, [.. Enumerable.Repeat(0.80, 6)]);
        Problem full = station.Find(Rule.TankFilling)!;
        full.Urgency.Should().Be(Urgency.NeedsVisit);
        full.Evidence.Should().Be(new TankFillingEvidence(0.80, 208.2, null));
    }

    [Fact]
    public void Uses_that_the_level_has_not_shown_yet_count_in_the_forecast_until_it_has()
    {
        FactsContext context = new(With());
        TankFacts tank = new() { Sensor = new TankSensorFacts { Uses = 95, Inflow = 95 * 5 / Drum.CapacityLitres } };
        Take(0.40, minutes: 0, readings: 15);
        tank.NotShownYet(Drum.CapacityLitres).Should().Be(0);

        // Two uses of 5 L each, as learned with a little of what is first known.
        tank.TakeUses(2, Start.AddMinutes(75), context);
        Take(0.44, minutes: 75, readings: 1);
        tank.Level!.Share.Should().BeApproximately(0.40, 1e-9, "one high reading proves nothing");
        tank.NotShownYet(Drum.CapacityLitres).Should().BeApproximately(0.0476, 0.0005);

        Take(0.448, minutes: 80, readings: 15);
        tank.Level!.Share.Should().BeApproximately(0.448, 1e-9);
        tank.NotShownYet(Drum.CapacityLitres).Should().Be(0);

        void Take(double share, int minutes, int readings)
        {
            for (int i = 0; i < readings; i++)
            {
                Measurement reading = new(MeasurementName.TankFill, Start.AddMinutes(minutes + (5 * i)), share);
                tank.Take([reading], context);
            }
        }
    }

    [Fact]
    public void It_clears_when_the_tank_has_been_emptied()
    {
        WatchedStation station = new();
        Say(station, [.. Enumerable.Repeat(0.82, 6)]);

        Say(station, [.. Enumerable.Repeat(0.02, 5)]);
        station.PassSaying(TimeSpan.FromHours(1), ("tank/fill", 0.02));

        station.Problems.Should().BeEmpty();
        station.Steps[^1].Cleared.Should().Equal(new ClearedProblem(Rule.TankFilling, ""));
    }

    [Fact]
    public void A_ticket_comes_before_the_limit_when_the_tank_may_be_full_before_somebody_gets_there()
    {
        WatchedStation station = Filling(perDay: 0.30, days: 9, emptiedAt: 0.85);
        Fill(station, perDay: 0.30, until: share => share > 0.66);

        Problem problem = station.Find(Rule.TankFilling)!;

        problem.Urgency.Should().Be(Urgency.NeedsVisit);
        TankFillingEvidence evidence = problem.Evidence.Should().BeOfType<TankFillingEvidence>().Subject;
        evidence.FillShare.Should().BeLessThan(RuleSettings.Default.TankRaiseShare);
        evidence.LitresPerDay.Should().BeApproximately(0.30 * 208.2, 8);
        evidence.Full!.Early.Should().BeBefore(evidence.Full.Middle!.Value);
        evidence.Full.Middle!.Value.Should().BeCloseTo(station.Now.AddDays((1 - evidence.FillShare) / 0.30), TimeSpan.FromHours(14));
        evidence.Full.Late.Should().BeAfter(evidence.Full.Middle.Value);
        evidence.Full.Likeliest.Should().BeOnOrAfter(evidence.Full.Early).And.BeOnOrBefore(evidence.Full.Late!.Value);
    }

    [Fact]
    public void Who_needs_longer_to_get_there_is_told_earlier()
    {
        double Told(double hours)
        {
            WatchedStation station = Filling(0.10, 14, 0.75, With(new RuleSettings { TankResponseHours = hours }));
            Fill(station, 0.10, share => share > 0.99 || station.Find(Rule.TankFilling)?.Urgency == Urgency.NeedsVisit);
            return station.Find(Rule.TankFilling)!.Evidence.Should().BeOfType<TankFillingEvidence>().Subject.FillShare;
        }

        Told(hours: 96).Should().BeLessThan(Told(hours: 12) - 0.05);
    }

    [Fact]
    public void It_is_due_soon_before_it_is_a_ticket_and_the_first_days_say_no_date()
    {
        WatchedStation station = Filling(0.10, 5, 0.95);
        (station.Find(Rule.TankFilling)?.Evidence as TankFillingEvidence)?.Full.Should().BeNull("fewer than seven days are known");

        station = Filling(0.10, 14, 0.75);
        Fill(station, 0.10, share => share > 0.99 || station.Find(Rule.TankFilling) is not null);

        station.Find(Rule.TankFilling)!.Urgency.Should().Be(Urgency.DueSoon);
    }

    [Fact]
    public void Readings_from_before_a_quiet_period_are_no_evidence_after_it()
    {
        DateTimeOffset arrived = Start + TimeSpan.FromDays(3);
        WatchedStation station = new(With(quiet: [Quiet(Domain.Fleet.QuietReason.InTransit, Start + TimeSpan.FromDays(1), arrived)]));
        Say(station, [.. Enumerable.Repeat(0.85, 6)]);
        station.Problems.Should().ContainSingle();

        station.PassSaying(TimeSpan.FromDays(3) - 6 * Quarter, ("battery/charge", 0.9));
        station.PassSaying(TimeSpan.FromHours(1), ("battery/charge", 0.9));
        station.Problems.Should().BeEmpty("the tank was emptied before the move, as far as anybody knows");

        Say(station, 0.85, 0.85);
        station.Problems.Should().BeEmpty();
        Say(station, 0.85);
        station.Find(Rule.TankFilling).Should().NotBeNull();
    }

    [Fact]
    public void A_station_without_a_tank_has_no_tank_problem()
    {
        WatchedStation station = new(With() with { Tank = TankHistory.None });

        Say(station, [.. Enumerable.Repeat(0.9, 8)]);

        station.Problems.Should().BeEmpty();
    }

    private static void Say(WatchedStation station, params double[] shares)
    {
        foreach (double share in shares)
        {
            station.Pass(Quarter).Report(("tank/fill", share));
        }
    }

    // A tank that fills evenly and is emptied at a share, for some days.
    private static WatchedStation Filling(double perDay, int days, double emptiedAt, Domain.Fleet.StationSetup? setup = null)
    {
        WatchedStation station = new(setup ?? With());
        double share = 0.02;
        for (int quarter = 0; quarter < 96 * days; quarter++)
        {
            share = share >= emptiedAt ? 0.02 : share + (perDay / 96);
            Say(station, Math.Round(share, 4));
        }

        Say(station, [.. Enumerable.Repeat(0.02, 6)]);
        return station;
    }

    private static void Fill(WatchedStation station, double perDay, Func<double, bool> until)
    {
        for (double share = 0.02; !until(share); share += perDay / 96)
        {
            Say(station, Math.Round(share, 4));
        }
    }
}
