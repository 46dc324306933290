using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quality;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tests.Simulation;

/// <summary>What each fault does to what a station reports, seen beside the same season without it.</summary>
public sealed class FaultTests
{
    private static readonly QualitySeason Season = QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Busy)[0];
    private static readonly FleetFile Healthy = InJuly(QualityWorld.Of(Season, SimulatedWorldKind.Usual));
    private static readonly DateOnly First = new(2026, 7, 6);
    private static readonly DateOnly Last = new(2026, 7, 19);
    private static readonly DateTimeOffset From = new(2026, 7, 8, 6, 0, 0, TimeSpan.Zero);
    private static readonly (List<SimulatedReport> Reports, List<DayTruth> Days) Without = Run(null);

    [Theory]
    [InlineData(FaultKind.ToolMissing)]
    [InlineData(FaultKind.ToolDead)]
    public void A_dead_or_missing_tool_is_never_counted_until_it_is_mended(FaultKind kind)
    {
        PlannedVisit mended = new(QualityWorld.Code, From.AddDays(6), ReplaceTool: "brush");
        (List<SimulatedReport> reports, _) = Run(Fault(kind) with { Tool = "brush" }, mended);

        Gain(reports, "brush", From, mended.At).Should().Be(0);
        Gain(reports, "wrench", From, mended.At).Should().BePositive();
        Gain(reports, "brush", mended.At, From.AddDays(11)).Should().BePositive();
    }

    [Fact]
    public void A_weak_tool_is_used_by_the_share_that_is_left()
    {
        (List<SimulatedReport> reports, _) = Run(Fault(FaultKind.ToolWeak) with { Tool = "brush", KeptShare = 0.4 });

        (Gain(reports, "brush", From, From.AddDays(11)) / Gain(Without.Reports, "brush", From, From.AddDays(11))).Should().BeInRange(0.3, 0.5);
    }

    [Fact]
    public void A_runaway_counter_rises_at_its_own_pace_and_the_truth_does_not()
    {
        (List<SimulatedReport> reports, List<DayTruth> days) = Run(Fault(FaultKind.CounterRunaway) with { Tool = "grabber", CountsPerHour = 60 });

        double more = Gain(reports, "grabber", From, From.AddDays(5)) - Gain(Without.Reports, "grabber", From, From.AddDays(5));
        more.Should().BeApproximately(60 * 24 * 5, 400);
        days.Select(day => day.Uses["grabber"]).Should().Equal(Without.Days.Select(day => day.Uses["grabber"]));
    }

    [Fact]
    public void A_dead_station_counts_nothing_and_goes_on_reporting()
    {
        (List<SimulatedReport> reports, List<DayTruth> days) = Run(Fault(FaultKind.StationUnused));

        QualityWorld.Tools.Sum(tool => Gain(reports, tool.Slug, From, From.AddDays(10))).Should().Be(0);
        reports.Count.Should().BeCloseTo(Without.Reports.Count, 5);
        days[^1].Boats.Should().Be(Without.Days[^1].Boats, "boats come all the same");
    }

    [Fact]
    public void Nobody_comes_to_an_access_that_is_closed_untold()
    {
        (_, List<DayTruth> days) = Run(Fault(FaultKind.AccessClosed));

        days[5].Boats.Should().Be(0);
        Without.Days[5].Boats.Should().BePositive();
    }

    [Fact]
    public void A_frozen_tank_sensor_says_one_thing_only()
    {
        (List<SimulatedReport> reports, _) = Run(Fault(FaultKind.TankFrozen));

        Values(reports, Tank(reports), From, From.AddDays(10)).Distinct().Should().ContainSingle();
    }

    [Fact]
    public void A_drifting_tank_sensor_leaves_the_true_level()
    {
        (List<SimulatedReport> reports, _) = Run(Fault(FaultKind.TankDrift) with { DriftSharePerDay = 0.05 });
        DateTimeOffset then = From.AddDays(2);

        double Median(List<SimulatedReport> of) => Values(of, Tank(of), then, then.AddHours(3)).Order().ElementAt(15);

        // The season's seed gives a level sensor in a tank 0.81 m high.
        ((Median(reports) - Median(Without.Reports)) / 0.81).Should().BeApproximately(0.1, 0.01);
    }

    [Fact]
    public void A_leaking_tank_loses_what_the_truth_tells()
    {
        (_, List<DayTruth> days) = Run(Fault(FaultKind.TankLeak) with { LitresPerDay = 20 });
        double litres = days[0].TankLitres;
        foreach (DayTruth day in days.Skip(1))
        {
            litres += day.InflowLitres - day.OverflowLitres - day.LeakLitres - day.PumpOuts.Sum(pumpOut => pumpOut.Litres);
            day.TankLitres.Should().BeApproximately(litres, 1e-6);
        }

        days[4].LeakLitres.Should().BeApproximately(20, 0.1);
    }

    [Fact]
    public void A_faulty_panel_gives_what_its_fault_leaves_of_the_sun()
    {
        double Share(PlannedFault fault) => Run(fault).Days[5] is var day ? day.PanelWattHours / day.SunWattHours : 0;

        Share(Fault(FaultKind.PanelSoiled) with { Loss = 0.3 }).Should().BeApproximately(0.7, 1e-9);
        Share(Fault(FaultKind.PanelSoiled) with { LossPerDay = 0.1 }).Should().BeInRange(0.6, 0.75);
        Share(Fault(FaultKind.PanelDisconnected)).Should().Be(0);
        Share(Fault(FaultKind.PanelShaded) with { Loss = 0.8 }).Should().BeInRange(0.5, 0.75);
    }

    [Fact]
    public void An_aged_battery_and_an_extra_load_make_the_charge_fall_deeper()
    {
        double Lowest(PlannedFault? fault) => Run(fault).Days.Min(day => day.LowestChargeShare);

        double healthy = Without.Days.Min(day => day.LowestChargeShare);
        Lowest(Fault(FaultKind.BatteryAged) with { KeptShare = 0.3 }).Should().BeLessThan(healthy - 0.05);
        Lowest(Fault(FaultKind.ExtraLoad) with { Watts = 10 }).Should().BeLessThan(healthy - 0.03);
    }

    [Fact]
    public void A_site_outage_says_nothing_and_ends_with_a_restart()
    {
        PlannedFault outage = Fault(FaultKind.SiteOutage) with { To = From.AddDays(2) };
        (List<SimulatedReport> reports, _) = Run(outage);

        reports.SelectMany(report => report.Measurements).Should().NotContain(m => m.At > From && m.At < outage.To);
        Values(reports, MeasurementName.ControllerUptime, outage.To!.Value, outage.To.Value.AddHours(1))[0].Should().BeLessThan(3600);
    }

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, false)]
    public void Totals_begin_anew_with_and_without_the_uptime(bool keepsUptime, bool uptimeFalls)
    {
        (List<SimulatedReport> reports, _) = Run(Fault(FaultKind.CounterRestart) with { KeepsUptime = keepsUptime });

        Falls(MeasurementName.Uses("brush")).Should().BeTrue();
        Falls(MeasurementName.ControllerUptime).Should().Be(uptimeFalls);

        bool Falls(string name) => Values(reports, name, From.AddDays(-1), From.AddDays(1)) is var v && v.Zip(v.Skip(1)).Any(pair => pair.Second < pair.First);
    }

    [Theory]
    [InlineData(7200)]
    [InlineData(-86400)]
    public void A_wrong_clock_moves_the_times_of_measuring_and_not_of_receiving(double seconds)
    {
        (List<SimulatedReport> reports, _) = Run(Fault(FaultKind.ClockJump) with { AheadSeconds = seconds });

        SimulatedReport report = reports.First(r => r.Received > From.AddDays(3));
        (report.Measurements[^1].At - report.Received).TotalSeconds.Should().BeApproximately(seconds, 400);
    }

    [Fact]
    public void A_lost_week_never_arrives()
    {
        PlannedFault lost = Fault(FaultKind.RadioOutage) with { To = From.AddDays(7), Lost = true };

        Run(lost).Reports.SelectMany(report => report.Measurements).Should().NotContain(m => m.At > From && m.At < lost.To!.Value.AddMinutes(-10));
    }

    [Fact]
    public void A_portable_taken_elsewhere_tells_its_new_place()
    {
        FleetFile portable = Healthy with { Stations = [Healthy.Stations[0] with { Portable = true }] };
        (List<SimulatedReport> reports, _) = Run(Fault(FaultKind.PortableMoved) with { Access = "elsewhere" }, null, portable);

        Values(reports, MeasurementName.Latitude, From.AddDays(-1), From).Should().OnlyContain(latitude => Math.Abs(latitude - 44.41) < 0.001);
        Values(reports, MeasurementName.Latitude, From, From.AddDays(2)).Should().OnlyContain(latitude => Math.Abs(latitude - 44.43) < 0.001);
    }

    [Fact]
    public void Tests_of_the_tools_are_service_uses_and_no_public_ones()
    {
        PlannedVisit visit = new(QualityWorld.Code, From.AddHours(30)) { TestUses = 3 };
        (List<SimulatedReport> reports, List<DayTruth> days) = Run(null, visit);

        days.Sum(day => day.ServiceUses["grabber"]).Should().Be(3);
        days.Sum(day => day.Uses["grabber"]).Should().Be(Without.Days.Sum(day => day.Uses["grabber"]));
        (Gain(reports, "grabber", From, From.AddDays(5)) - Gain(Without.Reports, "grabber", From, From.AddDays(5))).Should().Be(3);
    }

    [Fact]
    public void A_visit_added_while_the_season_runs_ends_a_fault_as_a_planned_one_does()
    {
        FleetFile broken = With(Healthy, Fault(FaultKind.ToolDead) with { Tool = "brush" }, null);
        PlannedVisit mends = new(QualityWorld.Code, From.AddDays(5), ReplaceTool: "brush");
        StationSimulator added = new(broken, QualityWorld.Code);
        List<DayTruth> days = [];
        for (DateOnly day = First; day <= Last; day = day.AddDays(1))
        {
            if (day == new DateOnly(2026, 7, 12))
            {
                added.Add(mends);
            }

            days.Add(added.Day(day).Truth!);
        }

        (_, List<DayTruth> planned) = Run(Fault(FaultKind.ToolDead) with { Tool = "brush" }, mends);
        days.Should().BeEquivalentTo(planned);
    }

    // A station that begins in July need not be stepped through the spring.
    private static FleetFile InJuly(FleetFile fleet)
    {
        DateTimeOffset july = new(2026, 7, 3, 6, 0, 0, TimeSpan.Zero);
        return fleet with { Stations = [fleet.Stations[0] with { Created = july, Placements = [new FleetPlacement("here", july)] }] };
    }

    private static PlannedFault Fault(FaultKind kind) => new(kind, QualityWorld.Code, From);

    private static FleetFile With(FleetFile fleet, PlannedFault? fault, PlannedVisit? visit) => fleet with
    {
        Simulation = fleet.Simulation! with
        {
            Faults = fault is null ? [] : [fault],
            Visits = visit is null ? [] : [visit],
        },
    };

    private static (List<SimulatedReport> Reports, List<DayTruth> Days) Run(PlannedFault? fault, PlannedVisit? visit = null, FleetFile? fleet = null)
    {
        List<DayTruth> days = [];
        List<SimulatedReport> reports = [.. new StationSimulator(With(fleet ?? Healthy, fault, visit), QualityWorld.Code).Run(First, Last, days.Add)];
        return (reports, days);
    }

    private static string Tank(List<SimulatedReport> reports) =>
        reports.SelectMany(report => report.Measurements).First(m => m.Name.StartsWith("tank/", StringComparison.Ordinal)).Name;

    private static List<double> Values(List<SimulatedReport> reports, string name, DateTimeOffset from, DateTimeOffset to) =>
        [.. reports.SelectMany(report => report.Measurements).Where(m => m.Name == name && m.At > from && m.At < to).OrderBy(m => m.At).Select(m => m.Value)];

    private static double Gain(List<SimulatedReport> reports, string tool, DateTimeOffset from, DateTimeOffset to) =>
        Values(reports, MeasurementName.Uses(tool), from, to) is var values ? values[^1] - values[0] : 0;
}
