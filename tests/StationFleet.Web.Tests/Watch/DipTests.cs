using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Storage.Service;
using Microsoft.EntityFrameworkCore;

namespace StationFleet.Web.Tests.Watch;

/// <summary>Pump-outs of a tank that holds 200 L, as sensor and stick know them.</summary>
public sealed class DipTests : IAsyncLifetime
{
    private readonly WatchScene _scene = new();

    public Task InitializeAsync() => _scene.InitializeAsync();

    public Task DisposeAsync() => _scene.DisposeAsync();

    [Fact]
    public async Task A_stick_far_off_what_the_sensor_said_before_the_emptying_raises_a_ticket()
    {
        await _scene.SayAsync("tank/fill", 0.70, 0.71, 0.72, 0.72, 0.72, 0.72, 0.02, 0.02, 0.02);
        await DipAsync(litres: 120);

        await _scene.SayAsync("tank/fill", 0.02);

        Ticket ticket = (await _scene.RowsAsync<Ticket>()).Should().ContainSingle(ticket => ticket.Rule == Rule.TankSensor).Subject;
        ticket.Part.Should().Be("dip");
        TankDipEvidence evidence = (TankDipEvidence)WatchJson.Read<Evidence>(ticket.Evidence);
        (evidence.DipLitres, evidence.CapacityLitres).Should().Be((120, 200));
        evidence.SensorLitres.Should().BeApproximately(144, 1e-9, "72 % before it fell");
    }

    [Fact]
    public async Task A_sensor_that_saw_no_fall_is_compared_by_what_it_said_before_the_visit()
    {
        await _scene.SayAsync("tank/fill", [.. Enumerable.Repeat(0.60, 12)]);
        await DipAsync(litres: 90);

        await _scene.SayAsync("tank/fill", 0.60);

        (await _scene.RowsAsync<Ticket>()).Should().ContainSingle(ticket => ticket.Rule == Rule.TankSensor)
            .Which.Evidence.Should().Contain("120", "60 % of 200 L stand against 90 L");
    }

    [Fact]
    public async Task A_stick_that_agrees_raises_nothing()
    {
        await _scene.SayAsync("tank/fill", 0.70, 0.71, 0.72, 0.72, 0.72, 0.72, 0.02, 0.02, 0.02);
        await DipAsync(litres: 138);

        await _scene.SayAsync("tank/fill", 0.02);

        (await _scene.RowsAsync<Ticket>()).Should().BeEmpty();
    }

    [Fact]
    public async Task A_seen_pump_out_is_made_litres_anew_by_a_tank_that_is_corrected_later_from_its_date_only()
    {
        await SetAsync(tank => tank.Shape = new BoxTank(1, 0.5, 0.5));
        await _scene.SayAsync("tank/level", 0.30, 0.31, 0.32, 0.32, 0.32, 0.32, 0.02, 0.02, 0.02);
        double before = await PumpedOutAsync();

        await SetAsync(tank => tank.Shape = new BoxTank(1, 0.4, 0.5));
        double corrected = await PumpedOutAsync();
        await using (FleetDbContext db = _scene.File.CreateDbContext())
        {
            db.Add(new StationTank { StationId = _scene.Station.Id, From = _scene.Now, CapacityLitres = 200, Shape = new BoxTank(1, 0.1, 0.5) });
            await db.SaveChangesAsync();
        }

        before.Should().BeApproximately(150, 1e-9, "0.30 m × 0.5 m²");
        corrected.Should().BeApproximately(120, 1e-9, "0.30 m × 0.4 m²: the raw levels were kept");
        (await PumpedOutAsync()).Should().BeApproximately(120, 1e-9, "the other tank holds only from now on");
    }

    [Fact]
    public async Task Litres_pumped_out_carry_the_uncertainty_that_dips_give_them()
    {
        await _scene.SayAsync("tank/fill", 0.70, 0.71, 0.72, 0.72, 0.72, 0.72, 0.02, 0.02, 0.02);
        (await FiguresAsync()).LitresPumpedOutUncertainty.Should().BeApproximately(4, 1e-9, "2 % of 200 L by the data sheet");

        await DipAsync(litres: 124);

        (await FiguresAsync()).LitresPumpedOutUncertainty.Should().BeApproximately(20, 1e-9, "the stick read 20 L less");
    }

    private async Task SetAsync(Action<StationTank> change)
    {
        await using FleetDbContext db = _scene.File.CreateDbContext();
        change(await db.StationTanks.SingleAsync(tank => tank.StationId == _scene.Station.Id));
        await db.SaveChangesAsync();
    }

    private Task<PumpOut> DipAsync(double litres) => _scene.File.AddAsync(new PumpOut
    {
        StationId = _scene.Station.Id, At = _scene.Now, Litres = litres, Source = PumpOutSource.Visit, DipLitres = litres,
    });

    private async Task<double> PumpedOutAsync() => (await FiguresAsync()).LitresPumpedOut;

    private async Task<SeasonFigures> FiguresAsync()
    {
        SeasonReader reader = new(_scene.File, new StationSetupReader(_scene.File), _scene.File.Reader);
        Season season = new(2026, new DateOnly(2026, 5, 1), new DateOnly(2026, 10, 15));
        return SeasonSummary.Of(await reader.ReadAsync([_scene.Station.Id], season, _scene.Now, CancellationToken.None)).Fleet;
    }
}
