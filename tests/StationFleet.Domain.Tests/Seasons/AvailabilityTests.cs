using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Tests.Seasons;

public sealed class AvailabilityTests
{
    private const double Nearly = 1e-9;

    private static readonly DateTimeOffset Start = new(2026, 5, 15, 6, 0, 0, TimeSpan.Zero);

    [Fact]
    [Source("kendallscapes.com, exam-type question: MTBF 900 h, MTTR 100 h give 0.900")]
    public void FromMeans_matches_the_exam_question() =>
        AvailabilityFormulas.FromMeans(Hours(900), Hours(100)).Should().BeApproximately(0.900, Nearly);

    [Fact]
    [Source("kendallscapes.com: 10,000 h of operation, 10 failures, mean repair 5 h give MTBF 1,000 h and 99.5 %")]
    public void Over_matches_ten_failures_in_ten_thousand_hours_of_operation()
    {
        Failure[] failures = [.. Enumerable.Range(0, 10).Select(i => Down(1_000 * i, 5, work: 5))];

        Availability availability = Over(10_050, failures);

        availability.UpTime.Should().Be(Hours(10_000));
        availability.MeanTimeBetweenFailures.Should().Be(Hours(1_000));
        availability.MeanActiveRepair.Should().Be(Hours(5));
        availability.Share.Should().BeApproximately(1000.0 / 1005, Nearly, "the page gives 1000/1005 and rounds it to 99.5 %");
    }

    [Fact]
    [Source("US Coast Guard COMDTINST 4105.7 enclosure 4 (the form); 500 h and 250 h are our own arithmetic")]
    public void MeanTimeBetweenMaintenance_joins_two_streams() =>
        AvailabilityFormulas.MeanTimeBetweenMaintenance(Hours(500), Hours(250)).TotalHours.Should().BeApproximately(166.67, 0.005);

    [Fact]
    [Source("NASA reliability technique AT-3 (the product form); 0.99 x 0.98 x 0.95 is our own arithmetic")]
    public void InSeries_multiplies_the_parts() =>
        AvailabilityFormulas.InSeries([0.99, 0.98, 0.95]).Should().BeApproximately(0.921690, Nearly);

    [Fact]
    [Source("GEANT service-desk wiki, monthly form: S = 2,592,000 s; three outages of 21,600 s together are our own arithmetic")]
    public void Over_matches_the_monthly_form()
    {
        Failure[] failures = [Down(100, 1), Down(300, 2), Down(500, 3)];

        Availability availability = Over(30 * 24, failures);

        availability.RequiredTime.TotalSeconds.Should().Be(2_592_000);
        availability.Share.Should().BeApproximately(0.991667, 5e-7);
        availability.MeanTimeToRestoration!.Value.TotalSeconds.Should().Be(7_200);
        availability.MeanTimeBetweenFailures!.Value.TotalSeconds.Should().Be(856_800);
    }

    [Fact]
    [Source("Our own end-to-end vector, by hand; forms of IEC 60050-192 and the NASA Systems Engineering Handbook")]
    public void Over_matches_a_whole_season_with_a_move_and_an_open_failure()
    {
        TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");
        UtcInterval season = new Season(2026, new DateOnly(2026, 5, 15), new DateOnly(2026, 9, 14)).Window(zone, DateTimeOffset.MaxValue)!;
        UtcInterval move = new(season.Start + Hours(1_000), season.Start + Hours(1_048));
        Failure[] failures =
        [
            new(season.Start + Hours(100), season.Start + Hours(110), Hours(1.5)),
            new(season.Start + Hours(400), season.Start + Hours(450), Hours(2)),
            new(move.Start - Hours(12), move.Start + Hours(8), Hours(1)),
            new(season.End - Hours(24), null, null),
        ];

        Availability availability = Availability.Over(season, Intervals.Without(season, [move]), failures);

        season.Length.Should().Be(Hours(2_952));
        availability.RequiredTime.Should().Be(Hours(2_904));
        availability.DownTime.Should().Be(Hours(96));
        availability.UpTime.Should().Be(Hours(2_808));
        availability.Failures.Should().Be(4);
        availability.StillOpen.Should().Be(1);
        availability.Share.Should().BeApproximately(0.966942, 5e-7);
        availability.MeanTimeBetweenFailures.Should().Be(Hours(702));
        availability.MeanTimeToRestoration.Should().Be(Hours(24));
        availability.MeanActiveRepair.Should().Be(Hours(1.5));
        availability.MeanDownTime.Should().Be(Hours(24));
        AvailabilityFormulas.FromMeans(Hours(702), Hours(24)).Should().BeApproximately(availability.Share!.Value, Nearly);
    }

    [Fact]
    public void Over_equals_the_form_of_means_when_every_failure_begins_and_ends_inside()
    {
        Random random = new(20261125);
        for (int trial = 0; trial < 500; trial++)
        {
            Failure[] failures = [.. Enumerable.Range(0, 1 + random.Next(20)).Select(i => Down((100 * i) + random.Next(40), 1 + random.Next(50)))];

            Availability availability = Over(2_000 + random.Next(1_000), failures);

            AvailabilityFormulas.FromMeans(availability.MeanTimeBetweenFailures!.Value, availability.MeanTimeToRestoration!.Value)
                .Should().BeApproximately(availability.Share!.Value, Nearly, $"trial {trial}");
        }
    }

    [Fact]
    public void Over_has_no_mean_of_nothing()
    {
        Availability availability = Over(100, []);

        availability.Share.Should().Be(1);
        availability.MeanTimeBetweenFailures.Should().BeNull();
        availability.MeanTimeToRestoration.Should().BeNull();
        availability.MeanActiveRepair.Should().BeNull();
        availability.MeanDownTime.Should().BeNull();
        Availability.None.Share.Should().BeNull();
    }

    [Fact]
    public void Over_counts_down_time_that_overlaps_once()
    {
        Availability availability = Over(100, [Down(10, 10), Down(15, 10), Down(17, 1)]);

        availability.DownTime.Should().Be(Hours(15));
        availability.DownIntervals.Should().Be(1);
        availability.Failures.Should().Be(3);
    }

    [Fact]
    public void Over_leaves_a_failure_from_before_the_window_out_of_the_counts_but_not_out_of_the_down_time()
    {
        Availability availability = Over(100, [Down(-20, 30)]);

        availability.DownTime.Should().Be(Hours(10));
        availability.Failures.Should().Be(0);
        availability.Restored.Should().Be(0);
        availability.MeanTimeToRestoration.Should().BeNull();
    }

    [Fact]
    public void Over_ignores_a_failure_that_touches_no_required_time()
    {
        UtcInterval window = Window(100);

        Availability availability = Availability.Over(window, [new UtcInterval(Start, Start + Hours(50))], [Down(60, 5)]);

        availability.Failures.Should().Be(0);
        availability.Share.Should().Be(1);
    }

    [Fact]
    public void Over_keeps_down_time_within_required_time_whatever_the_failures()
    {
        Random random = new(8428);
        for (int trial = 0; trial < 500; trial++)
        {
            Failure[] failures =
            [
                .. Enumerable.Range(0, random.Next(12)).Select(_ => random.Next(5) == 0
                    ? new Failure(Start + Hours(random.Next(-50, 250)), null, null)
                    : Down(random.Next(-50, 250), random.Next(0, 80))),
            ];
            UtcInterval[] required =
            [
                .. Enumerable.Range(0, 1 + random.Next(4)).Select(_ => random.Next(-20, 200))
                    .Select(from => new UtcInterval(Start + Hours(from), Start + Hours(from + 1 + random.Next(60)))),
            ];

            Availability availability = Availability.Over(Window(200), required, failures);

            availability.DownTime.Should().BeLessThanOrEqualTo(availability.RequiredTime, $"trial {trial}");
            availability.Share?.Should().BeInRange(0, 1);
            availability.Restored.Should().BeLessThanOrEqualTo(availability.Failures);
            availability.DownIntervals.Should().BeLessThanOrEqualTo(failures.Length);
            Availability.Over(Window(200), required, [.. failures.Reverse()]).Should().Be(availability, "order does not matter");
        }
    }

    [Fact]
    public void Together_adds_times_and_counts_so_that_means_weigh_by_them()
    {
        Availability together = Availability.Together([Over(100, [Down(10, 10)]), Over(300, [Down(10, 20), Down(90, 30)])]);

        together.Share.Should().BeApproximately(340.0 / 400, Nearly);
        together.MeanTimeToRestoration.Should().Be(Hours(20));
    }

    private static Availability Over(double requiredHours, Failure[] failures) =>
        Availability.Over(Window(requiredHours), [Window(requiredHours)], failures);

    private static UtcInterval Window(double hours) => new(Start, Start + Hours(hours));

    private static Failure Down(double fromHour, double hours, double? work = null) =>
        new(Start + Hours(fromHour), Start + Hours(fromHour + hours), work is { } noted ? Hours(noted) : null);

    private static TimeSpan Hours(double hours) => TimeSpan.FromHours(hours);
}
