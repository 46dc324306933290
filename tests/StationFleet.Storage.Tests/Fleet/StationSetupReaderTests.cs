using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Watch;

namespace StationFleet.Storage.Tests.Fleet;

public sealed class StationSetupReaderTests : IAsyncLifetime
{
    private static readonly TimeZoneInfo FleetZone = TimeZoneInfo.FindSystemTimeZoneById("America/Chicago");
    private static readonly DateTimeOffset Created = FleetBuilders.Created;
    private readonly FleetDatabaseFile _file = new();

    public Task InitializeAsync() => _file.InitializeAsync();

    public Task DisposeAsync() => _file.DisposeAsync();

    [Fact]
    public async Task A_station_that_stands_nowhere_is_in_transit_since_it_exists_and_has_the_fleets_zone()
    {
        Station station = await _file.AddStationAsync();

        StationSetup setup = await ReadAsync(station, Created.AddDays(1));

        setup.Quiet.Should().Equal(new QuietPeriod(QuietReason.InTransit, Created, null));
        setup.Zone.Should().Be(FleetZone);
        setup.Rules.Should().Be(RuleSettings.Default);
        setup.Tank.Tanks.Should().BeEmpty();
    }

    [Fact]
    public async Task A_portable_station_is_in_transit_between_its_placements()
    {
        Station station = await _file.AddStationAsync("PORT-A", isPortable: true);
        Access first = await _file.AddAccessAsync("marina");
        Access second = await _file.AddAccessAsync("landing", "America/Denver");
        await _file.AddPlacementAsync(station, first, Created.AddDays(1), Created.AddDays(10));
        await _file.AddPlacementAsync(station, second, Created.AddDays(12), Created.AddDays(20));
        await _file.AddPlacementAsync(station, first, Created.AddDays(20), Created.AddDays(30));

        StationSetup setup = await ReadAsync(station, Created.AddDays(11));

        setup.Quiet.Should().Equal(
            new QuietPeriod(QuietReason.InTransit, Created, Created.AddDays(1)),
            new QuietPeriod(QuietReason.InTransit, Created.AddDays(10), Created.AddDays(12)),
            new QuietPeriod(QuietReason.InTransit, Created.AddDays(30), null));
        setup.Zone.Id.Should().Be("America/Boise", "on the road it keeps the days of where it came from");
        (await ReadAsync(station, Created.AddDays(13))).Zone.Id.Should().Be("America/Denver");
    }

    [Fact]
    public async Task A_closed_access_concerns_a_station_only_while_it_stands_there()
    {
        Station station = await _file.AddStationAsync();
        Access here = await _file.AddAccessAsync("here");
        Access elsewhere = await _file.AddAccessAsync("elsewhere");
        await _file.AddPlacementAsync(station, here, Created, Created.AddDays(10));
        await _file.AddPlacementAsync(station, elsewhere, Created.AddDays(10));
        await _file.AddAsync(new AccessClosure { AccessId = here.Id, From = Created.AddDays(2), To = Created.AddDays(3), Reason = "Fire" });
        await _file.AddAsync(new AccessClosure { AccessId = here.Id, From = Created.AddDays(8), To = Created.AddDays(15), Reason = "Low water" });
        await _file.AddAsync(new AccessClosure { AccessId = elsewhere.Id, From = Created.AddDays(1), To = Created.AddDays(2), Reason = "Works" });
        await _file.AddAsync(new AccessClosure { AccessId = elsewhere.Id, From = Created.AddDays(30), Reason = "Works" });
        await _file.AddAsync(new WinterStorage { StationId = station.Id, From = Created.AddDays(100), To = Created.AddDays(200) });

        StationSetup setup = await ReadAsync(station, Created.AddDays(11));

        setup.Quiet.Should().BeEquivalentTo(
        [
            new QuietPeriod(QuietReason.AccessClosed, Created.AddDays(2), Created.AddDays(3)),
            new QuietPeriod(QuietReason.AccessClosed, Created.AddDays(8), Created.AddDays(10)),
            new QuietPeriod(QuietReason.AccessClosed, Created.AddDays(30), null),
            new QuietPeriod(QuietReason.Winterized, Created.AddDays(100), Created.AddDays(200)),
        ]);
    }

    [Fact]
    public async Task Tools_tank_and_limits_are_those_of_the_instant()
    {
        Station station = await _file.AddStationAsync();
        await _file.AddAsync(Tool(station, "brush", installed: 0, removed: 10));
        await _file.AddAsync(Tool(station, "wrench", installed: 5, removed: null));
        await _file.AddAsync(Tool(station, "blower", installed: 20, removed: null));
        await _file.AddAsync(new StationTank { StationId = station.Id, From = Created, CapacityLitres = 100 });
        await _file.AddAsync(new StationTank { StationId = station.Id, From = Created.AddDays(8), CapacityLitres = 208, Shape = new EvenTank(0.8, 208) });
        await _file.AddAsync(new StationRules { StationId = station.Id, Settings = new RuleSettings { SilentAfterHours = 12 } });

        StationSetup setup = await ReadAsync(station, Created.AddDays(9));

        setup.Tools.Select(tool => tool.Slug).Should().Equal("brush", "wrench");
        setup.Tank.At(Created.AddDays(9)).Should().Be(new TankSetup(208, new EvenTank(0.8, 208)));
        setup.Tank.At(Created.AddDays(7)).Should().Be(new TankSetup(100), "each tank holds from its date on");
        setup.Rules.Should().Be(RuleSettings.Default with { SilentAfterHours = 12 });
        (await ReadAsync(station, Created.AddDays(10))).Tools.Select(tool => tool.Slug).Should().Equal("wrench");
    }

    [Fact]
    public async Task The_history_names_the_instants_at_which_the_setup_becomes_another_one()
    {
        Station station = await _file.AddStationAsync();
        await _file.AddPlacementAsync(station, await _file.AddAccessAsync("here"), Created.AddDays(1), Created.AddDays(30));
        await _file.AddAsync(Tool(station, "brush", installed: 0, removed: 10));
        await _file.AddAsync(new StationPower { StationId = station.Id, From = Created.AddDays(8), CapacityAh = 50, PanelWatts = 20 });

        StationSetupHistory? history = await new StationSetupReader(_file).ReadHistoryAsync(station.Id, FleetZone, CancellationToken.None);

        history!.Changes.Should().Equal(Created, Created.AddDays(1), Created.AddDays(8), Created.AddDays(10));
        history.At(Created.AddDays(7)).Should().Match<StationSetup>(setup => setup.Power == null && setup.Tools.Count == 1);
        history.At(Created.AddDays(10)).Should().Match<StationSetup>(setup => setup.Power != null && setup.Tools.Count == 0);
    }

    [Fact]
    public async Task A_station_that_does_not_exist_has_no_setup()
    {
        (await new StationSetupReader(_file).ReadAsync(new StationId(99), Created, FleetZone, CancellationToken.None)).Should().BeNull();
    }

    private static Tool Tool(Station station, string slug, int installed, int? removed) => new()
    {
        StationId = station.Id,
        Slug = slug,
        Name = slug,
        Kind = ToolKind.Other,
        Installed = Created.AddDays(installed),
        Removed = removed is { } days ? Created.AddDays(days) : null,
    };

    private async Task<StationSetup> ReadAsync(Station station, DateTimeOffset now) =>
        (await new StationSetupReader(_file).ReadAsync(station.Id, now, FleetZone, CancellationToken.None))!;
}
