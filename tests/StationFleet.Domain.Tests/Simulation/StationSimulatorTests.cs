using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Tests.Simulation;

public sealed class StationSimulatorTests
{
    private static readonly FleetFile Fleet = DemoFleet.Load();
    private static readonly TimeZoneInfo Zone = Fleet.Zone;
    private static readonly DateOnly SeasonStart = new(2026, 5, 1);
    private static readonly DateOnly Wednesday = new(2026, 7, 8);

    public static TheoryData<string> Stations => new(Fleet.Stations.Select(station => station.Code));

    [Theory]
    [MemberData(nameof(Stations))]
    public void Day_alone_equals_the_same_day_in_a_run(string code)
    {
        DateOnly date = new(2026, 6, 20);
        StationSimulator run = new(Fleet, code);
        for (DateOnly day = SeasonStart; day < date; day = day.AddDays(1))
        {
            run.Day(day);
        }

        SimulatedDay inRun = run.Day(date);
        SimulatedDay alone = new StationSimulator(Fleet, code).Day(date);

        alone.Reports.Should().HaveCountGreaterThan(80);
        Flat(alone.Reports).Should().Equal(Flat(inRun.Reports));
        alone.Truth.Should().BeEquivalentTo(inRun.Truth);
    }

    [Theory]
    [MemberData(nameof(Stations))]
    public void Tank_volume_is_inflow_less_overflow_and_pump_outs(string code)
    {
        StationSimulator station = new(Fleet, code);
        double litres = 0;
        int days = 0;
        for (DateOnly day = SeasonStart; day <= Wednesday; day = day.AddDays(1))
        {
            if (station.Day(day).Truth is not { } truth)
            {
                continue;
            }

            // A portable starts each stay with an empty tank: what was left is what the pump could not reach.
            bool begins = Fleet.Stations.Single(s => s.Code == code).Placements
                .Any(placement => LocalCalendar.DateOf(placement.From, Zone) == day);
            litres = (begins ? 0 : litres) + truth.InflowLitres - truth.OverflowLitres - truth.PumpOuts.Sum(pumpOut => pumpOut.Litres);
            truth.TankLitres.Should().BeApproximately(litres, 1e-9, $"on {day}");
            truth.ChargeShare.Should().BeInRange(0, 1);
            days++;
        }

        days.Should().BeGreaterThan(60);
    }

    [Theory]
    [MemberData(nameof(Stations))]
    public void Totals_only_rise_but_for_restarts_which_the_uptime_shows(string code)
    {
        List<Measurement> all = Measurements(code, SeasonStart, Wednesday);
        foreach (FleetTool tool in Fleet.Stations.Single(station => station.Code == code).Tools)
        {
            List<Measurement> totals = [.. all.Where(m => m.Name == MeasurementName.Uses(tool.Slug))];
            List<DateTimeOffset> falls = [.. totals.Zip(totals.Skip(1)).Where(pair => pair.Second.Value < pair.First.Value).Select(pair => pair.Second.At)];
            List<Measurement> uptimes = [.. all.Where(m => m.Name == MeasurementName.ControllerUptime)];
            foreach (DateTimeOffset fall in falls)
            {
                Measurement after = uptimes.First(m => m.At >= fall);
                uptimes.Last(m => m.At < fall).Value.Should().BeGreaterThan(after.Value, $"the controller of {code} restarted before {fall}");
            }

            totals.Should().NotBeEmpty();
        }
    }

    [Fact]
    public void Counters_of_COP_2_begin_anew_at_the_restart()
    {
        List<Measurement> brush = [.. Measurements("COP-2", new(2026, 6, 16), new(2026, 6, 18)).Where(m => m.Name == "tools/brush/uses")];

        int falls = brush.Zip(brush.Skip(1)).Count(pair => pair.Second.Value < pair.First.Value);

        falls.Should().Be(1);
        brush.First(m => m.At >= Local(17, 13, 25, month: 6)).Value.Should().BeLessThan(10);
    }

    [Fact]
    public void The_wrench_of_COP_1_is_used_until_it_goes_missing_and_never_after()
    {
        List<Measurement> wrench = [.. Measurements("COP-1", new(2026, 7, 5), Wednesday).Where(m => m.Name == "tools/wrench/uses")];

        DateTimeOffset lastUse = wrench.Zip(wrench.Skip(1)).Last(pair => pair.Second.Value > pair.First.Value).Second.At;

        lastUse.Should().Be(Local(5, 7, 25));
    }

    [Fact]
    public void A_tool_that_is_replaced_is_used_again()
    {
        SimulationOptions replaced = new(Visits: [new PlannedVisit("COP-1", Local(7, 9), ReplaceTool: "wrench")]);

        DayTruth truth = new StationSimulator(Fleet, "COP-1", replaced).Day(new(2026, 7, 7)).Truth!;

        truth.Uses["wrench"].Should().BePositive();
    }

    [Fact]
    public void The_week_without_radio_arrives_when_the_card_is_read()
    {
        List<SimulatedReport> reports = [.. new StationSimulator(Fleet, "SOR-1").Run(new(2026, 6, 9), new(2026, 6, 17))];

        List<SimulatedReport> late = [.. reports.Where(report => report.Received - report.Measurements[^1].At > TimeSpan.FromHours(4))];

        late.Should().HaveCountGreaterThan(600);
        late.Should().OnlyContain(report => report.Received >= Local(16, 10, 30, 6) && report.Received < Local(16, 10, 40, 6));
        reports.Should().NotContain(report => report.Received > Local(9, 18, 10, 6) && report.Received < Local(16, 10, 30, 6));
        reports.Should().BeInAscendingOrder(report => report.Received);
    }

    [Fact]
    public void Nobody_comes_while_the_access_is_closed_and_the_station_reports_all_the_same()
    {
        SimulatedDay day = new StationSimulator(Fleet, "COP-2").Day(new(2025, 8, 30));

        day.Truth!.Boats.Should().Be(0);
        day.Reports.Should().HaveCountGreaterThan(90);
    }

    [Fact]
    public void A_station_that_is_laid_up_or_on_the_road_says_nothing()
    {
        new StationSimulator(Fleet, "COP-1").Day(new(2026, 2, 1)).Reports.Should().BeEmpty();
        StationSimulator portable = new(Fleet, "PORT-B");

        portable.Day(Wednesday).Reports.Should().BeEmpty();
        portable.Day(new(2026, 7, 7)).Reports[^1].Measurements[^1].At.Should().Be(Local(7, 16, 20));
    }

    [Fact]
    public void A_day_holds_no_more_rows_than_the_store_is_planned_for()
    {
        foreach (StationSimulator station in new FleetSimulator(Fleet).Stations)
        {
            station.Day(new(2026, 7, 4)).Reports.Sum(report => report.Measurements.Count).Should().BeLessThan(2400, station.Code);
        }
    }

    [Fact]
    public void Days_of_23_and_25_hours_are_whole()
    {
        FleetFile always = Fleet with
        {
            Stations = [Fleet.Stations[0] with { Winter = [], Created = new(2025, 10, 1, 0, 0, 0, TimeSpan.Zero) }],
        };
        StationSimulator station = new(always, "COP-1");

        int Marks(DateOnly date) => station.Day(date).Reports.SelectMany(r => r.Measurements).Select(m => m.At).Distinct().Count();

        // Some reports never arrive, so only the greatest difference can be told.
        Marks(new(2025, 11, 2)).Should().BeInRange(290, 300);
        Marks(new(2026, 3, 8)).Should().BeInRange(262, 276);
    }

    [Fact]
    public void Without_a_simulated_technician_a_full_tank_stays_full()
    {
        SimulationOptions alone = new(TechnicianUntil: Local(8, 7, 5));

        DayTruth truth = new StationSimulator(Fleet, "COP-1", alone).Day(new(2026, 7, 10)).Truth!;

        truth.TankLitres.Should().BeGreaterThan(0.8 * Fleet.Stations[0].Tanks[0].CapacityLitres);
    }

    [Fact]
    public void A_station_whose_battery_is_empty_falls_silent()
    {
        StationSimulator station = new(Fleet, "OTT-1", new SimulationOptions(TechnicianUntil: Local(8, 7, 5)));

        SimulatedDay day = station.Day(new(2026, 7, 20));

        day.Reports.Should().BeEmpty();
        day.Truth!.ChargeShare.Should().BeLessThan(0.15);
        day.Truth.Uses.Values.Sum().Should().Be(0);
    }

    [Fact]
    public void A_cleaned_panel_brings_it_back_with_a_restarted_controller()
    {
        PlannedVisit cleaned = new("OTT-1", Local(20, 9), CleanPanel: true);
        StationSimulator station = new(Fleet, "OTT-1", new SimulationOptions(Visits: [cleaned], TechnicianUntil: Local(8, 7, 5)));

        SimulatedReport first = station.Run(new(2026, 7, 20), new(2026, 7, 23)).First(report => report.Measurements[0].At > cleaned.At);

        first.Measurements.Single(m => m.Name == MeasurementName.ControllerUptime).Value.Should().BeLessThan(900);
    }

    internal static DateTimeOffset Local(int day, int hour, int minute = 0, int month = 7) =>
        new(2026, month, day, hour, minute, 0, TimeSpan.FromHours(-6));

    private static List<Measurement> Measurements(string code, DateOnly first, DateOnly last) =>
        [.. new StationSimulator(Fleet, code).Run(first, last).SelectMany(report => report.Measurements).OrderBy(m => m.At)];

    private static IEnumerable<(DateTimeOffset, Measurement)> Flat(IEnumerable<SimulatedReport> reports) =>
        reports.SelectMany(report => report.Measurements.Select(m => (report.Received, m)));
}
