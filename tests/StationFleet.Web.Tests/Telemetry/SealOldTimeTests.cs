using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Tests.Watch;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>A hundred and twenty days of a watched station, then the nightly job.</summary>
public sealed class SealOldTimeTests : IAsyncLifetime
{
    private readonly WatchScene _scene = new();

    public async Task InitializeAsync()
    {
        await _scene.InitializeAsync();
        for (int day = 0; day < 120; day++)
        {
            Measurement[] measured = [.. Enumerable.Range(1, 24).SelectMany(hour => (Measurement[])
                [
                    new("tank/fill", _scene.Now.AddHours(hour), (day % 10 * 0.05) + (hour * 0.002)),
                    new("tools/vacuum/uses", _scene.Now.AddHours(hour), (day * 24) + hour),
                ])];
            _scene.Pass(TimeSpan.FromDays(1));
            (await _scene.File.Writer.WriteAsync(FleetBuilders.ReportReceivedAt(_scene.Station, _scene.Now, measured), CancellationToken.None))
                .Should().BeOfType<WriteOutcome.Stored>();
        }

        await _scene.RunAsync();
    }

    public Task DisposeAsync() => _scene.DisposeAsync();

    [Fact]
    public async Task The_watch_goes_on_over_sealed_time_a_late_reading_and_a_corrected_tank()
    {
        List<PumpOut> pumpOuts = await _scene.RowsAsync<PumpOut>();
        pumpOuts.Should().HaveCount(11, "it is emptied every ten days");

        long purged = await Job(60).HandleAsync(CancellationToken.None);
        DateTimeOffset upTo = (await _scene.File.Reader.SealedUpToAsync(_scene.Station.Id, CancellationToken.None))!.Value;
        await _scene.ReportAsync(_scene.Station, upTo.AddHours(2.5), ("tank/fill", 0.3));
        int late = await FailedWatchesAsync();
        await _scene.File.AddAsync(new StationTank { StationId = _scene.Station.Id, From = upTo.AddDays(1), CapacityLitres = 300 });
        int corrected = await FailedWatchesAsync();

        purged.Should().BeGreaterThan(2 * 24 * 58);
        upTo.Should().BeCloseTo(_scene.Now.AddDays(-60), TimeSpan.FromDays(1));
        (late, corrected).Should().Be((0, 0));
        (await _scene.RowsAsync<PumpOut>()).Select(pumpOut => pumpOut.At).Should().Equal(pumpOuts.Select(pumpOut => pumpOut.At));
        (await new RollUpVerifier(_scene.File.Database).VerifyAsync(null, CancellationToken.None)).Should().BeEmpty();
    }

    [Fact]
    public async Task Without_a_limit_everything_is_kept()
    {
        (await Job(null).HandleAsync(CancellationToken.None)).Should().Be(0);

        (await _scene.File.Reader.SealedUpToAsync(_scene.Station.Id, CancellationToken.None)).Should().BeNull();
    }

    private async Task<int> FailedWatchesAsync()
    {
        _scene.Pass(TimeSpan.FromMinutes(5));
        return (await _scene.RunAsync()).Failed;
    }

    private SealOldTime Job(int? rawDays) => new(
        _scene.File,
        new Retention(_scene.File, _scene.File.Database, _scene.File.Writer, _scene.File.Reader),
        _scene.Clock,
        Options.Create(new RetentionOptions { RawDays = rawDays }),
        NullLogger<SealOldTime>.Instance);
}
