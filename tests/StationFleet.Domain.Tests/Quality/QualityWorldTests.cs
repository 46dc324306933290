using System.Text.Json;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quality;
using StationFleet.Domain.Simulation;

namespace StationFleet.Domain.Tests.Quality;

public sealed class QualityWorldTests
{
    public static TheoryData<TrafficLevel> Levels => new(Enum.GetValues<TrafficLevel>());

    [Theory]
    [MemberData(nameof(Levels))]
    public void A_level_brings_its_boats_a_day(TrafficLevel level)
    {
        List<DayTruth> days = [];
        foreach (QualitySeason season in QualitySeeds.Of(SeedSet.Tuning, level).Where(QualityWorld.IsHealthy).Take(10))
        {
            _ = Run(season, SimulatedWorldKind.Usual, days.Add).Count();
        }

        // 10 seasons: the standard error of the mean is about 3 %.
        days.Average(day => day.Boats).Should().BeApproximately(QualitySeeds.BoatsPerDay(level), 0.10 * QualitySeeds.BoatsPerDay(level));
        days.Average(day => day.IsRainy ? 1.0 : 0).Should().BeApproximately(0.29, 0.03);
    }

    [Fact]
    public void No_seed_stands_in_two_lists() =>
        (from set in Enum.GetValues<SeedSet>() from level in Enum.GetValues<TrafficLevel>() from season in QualitySeeds.Of(set, level) select season.Seed)
            .Should().OnlyHaveUniqueItems();

    [Theory]
    [MemberData(nameof(Levels))]
    public void The_held_out_seasons_hold_every_fault_at_every_tool_and_a_third_of_them_is_healthy(TrafficLevel level)
    {
        List<FleetFile> fleets = [.. QualitySeeds.Of(SeedSet.HeldOut, level).Select(season => QualityWorld.Of(season, SimulatedWorldKind.Usual))];
        List<PlannedFault> faults = [.. fleets.SelectMany(fleet => fleet.Simulation!.Faults)];

        fleets.Count(fleet => fleet.Simulation!.Faults.Count == 0).Should().Be(200);
        faults.Select(fault => fault.Kind).Should().Contain(Enum.GetValues<FaultKind>());
        faults.Where(fault => fault.Kind is FaultKind.ToolDead or FaultKind.ToolMissing).GroupBy(fault => fault.Tool)
            .Should().HaveCount(QualityWorld.Tools.Count).And.OnlyContain(tool => tool.Count() >= 30);
    }

    // Whole figures as they came out when the worlds were frozen: a change of the simulator that moves them is another world.
    [Theory]
    [InlineData(TrafficLevel.Quiet, 1, SimulatedWorldKind.Usual, 19147, 377473, 606, 1269)]
    [InlineData(TrafficLevel.Quiet, 4, SimulatedWorldKind.Harder, 19081, 365981, 656, 1842)]
    [InlineData(TrafficLevel.Middling, 1, SimulatedWorldKind.Usual, 19087, 370288, 1643, 4687)]
    [InlineData(TrafficLevel.Middling, 4, SimulatedWorldKind.Harder, 19176, 370450, 1672, 4531)]
    [InlineData(TrafficLevel.Busy, 1, SimulatedWorldKind.Usual, 19064, 387706, 5331, 14464)]
    [InlineData(TrafficLevel.Busy, 4, SimulatedWorldKind.Harder, 19047, 377069, 5459, 13731)]
    public void The_frozen_worlds_stay_as_they_were(TrafficLevel level, int number, SimulatedWorldKind world, int reports, int rows, int boats, int uses)
    {
        List<DayTruth> days = [];
        List<SimulatedReport> made = [.. Run(QualitySeeds.Of(SeedSet.HeldOut, level)[number], world, days.Add)];

        (made.Count, made.Sum(report => report.Measurements.Count), days.Sum(day => day.Boats), days.Sum(day => day.Uses.Values.Sum()))
            .Should().Be((reports, rows, boats, uses));
    }

    [Fact]
    public void A_quality_world_is_a_sound_fleet_file()
    {
        JsonSerializerOptions json = new(JsonSerializerDefaults.Web) { Converters = { new System.Text.Json.Serialization.JsonStringEnumConverter(JsonNamingPolicy.CamelCase) } };
        foreach (QualitySeason season in QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Busy).Take(60))
        {
            FleetFile.Parse(JsonSerializer.Serialize(QualityWorld.Of(season, SimulatedWorldKind.Harder), json)).Should().BeOfType<FleetFileReading.Read>();
        }
    }

    [Fact]
    public void The_radio_drops_out_about_every_fourth_day_for_two_hours_on_the_median()
    {
        List<TimeSpan> gaps = [];
        int days = 0;
        foreach (QualitySeason season in QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Quiet).Where(QualityWorld.IsHealthy).Take(10))
        {
            List<DateTimeOffset> received = [.. Run(season, SimulatedWorldKind.Usual).Select(report => report.Received)];
            gaps.AddRange(received.Zip(received.Skip(1), (a, b) => b - a).Where(gap => gap > TimeSpan.FromMinutes(40)));
            days += 200;
        }

        // Drop-outs under half an hour cannot be told from a lost report.
        (days / (double)gaps.Count).Should().BeInRange(3.5, 5.5);
        gaps.Order().ElementAt(gaps.Count / 2).Should().BeGreaterThan(TimeSpan.FromHours(1.5)).And.BeLessThan(TimeSpan.FromHours(3));
        gaps.Max().Should().BeLessThan(TimeSpan.FromHours(60));
    }

    [Fact]
    public void Some_reports_come_late_and_some_twice()
    {
        QualitySeason season = QualitySeeds.Of(SeedSet.Tuning, TrafficLevel.Quiet)[0];
        List<SimulatedReport> reports = [.. Run(season, SimulatedWorldKind.Usual)];

        reports.Should().BeInAscendingOrder(report => report.Received);
        reports.GroupBy(report => report.Measurements[^1].At).Count(group => group.Count() > 1).Should().BeInRange(100, 300);
        reports.Zip(reports.Skip(1)).Count(pair => pair.Second.Measurements[^1].At < pair.First.Measurements[^1].At).Should().BeGreaterThan(50);
    }

    private static IEnumerable<SimulatedReport> Run(QualitySeason season, SimulatedWorldKind world, Action<DayTruth>? onDay = null) =>
        new StationSimulator(QualityWorld.Of(season, world), QualityWorld.Code).Run(QualityWorld.First, QualityWorld.Last, onDay);
}
