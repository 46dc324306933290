using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Tests.Telemetry;

public sealed class StationKeysTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _stations;

    [Fact]
    public async Task A_key_finds_its_station_and_only_its_hash_is_kept()
    {
        Station station = await AddStationAsync();

        StationKeys.MakeOutcome.Made made = await MakeAsync(station);

        made.Key.Should().MatchRegex("^sfk_[a-z2-7]{8}_[a-z2-7]{32}$").And.StartWith(made.Prefix);
        (await FindAsync(made.Key))!.Station.Should().Be(station.Id);
        StationKey kept = await KeptAsync(made.KeyId);
        kept.Hash.Should().MatchRegex("^[0-9a-f]{64}$").And.NotContain(made.Key[13..]);
        kept.Prefix.Should().Be(made.Prefix);
    }

    [Fact]
    public async Task Two_keys_are_valid_at_once_and_a_third_waits_for_one_to_end()
    {
        Station station = await AddStationAsync();
        StationKeys.MakeOutcome.Made old = await MakeAsync(station);
        StationKeys.MakeOutcome.Made next = await MakeAsync(station);

        StationKeys.MakeOutcome third = await app.Get<StationKeys>().MakeAsync(station.Id, CancellationToken.None);

        third.Should().BeOfType<StationKeys.MakeOutcome.TwoAlready>();
        (await FindAsync(old.Key)).Should().NotBeNull();
        (await FindAsync(next.Key)).Should().NotBeNull();
        (await app.Get<StationKeys>().RevokeAsync(old.KeyId, CancellationToken.None)).Should().BeTrue();
        (await MakeAsync(station)).Key.Should().NotBe(next.Key);
    }

    [Fact]
    public async Task A_revoked_key_ends_at_once_and_only_once()
    {
        StationKeys.MakeOutcome.Made made = await MakeAsync(await AddStationAsync());
        (await FindAsync(made.Key)).Should().NotBeNull();

        bool first = await app.Get<StationKeys>().RevokeAsync(made.KeyId, CancellationToken.None);
        bool second = await app.Get<StationKeys>().RevokeAsync(made.KeyId, CancellationToken.None);

        (first, second).Should().Be((true, false));
        (await FindAsync(made.Key)).Should().BeNull();
        (await KeptAsync(made.KeyId)).Revoked.Should().Be(app.Clock.GetUtcNow());
    }

    [Fact]
    public async Task The_use_of_a_key_is_noted_once_an_hour()
    {
        StationKeys.MakeOutcome.Made made = await MakeAsync(await AddStationAsync());
        StationKeys.Holder holder = (await FindAsync(made.Key))!;
        DateTimeOffset first = app.Clock.GetUtcNow();

        await app.Get<StationKeys>().NoteUseAsync(holder, CancellationToken.None);
        app.Clock.Advance(TimeSpan.FromMinutes(59));
        await app.Get<StationKeys>().NoteUseAsync(holder, CancellationToken.None);
        DateTimeOffset? afterAnHour = (await KeptAsync(made.KeyId)).LastUsed;
        app.Clock.Advance(TimeSpan.FromMinutes(1));
        await app.Get<StationKeys>().NoteUseAsync(holder, CancellationToken.None);

        afterAnHour.Should().Be(first);
        (await KeptAsync(made.KeyId)).LastUsed.Should().Be(first.AddHours(1));
    }

    private Task<Station> AddStationAsync() => app.Databases.AddStationAsync($"K-{Interlocked.Increment(ref _stations)}");

    private async Task<StationKeys.MakeOutcome.Made> MakeAsync(Station station) =>
        (await app.Get<StationKeys>().MakeAsync(station.Id, CancellationToken.None)).Should().BeOfType<StationKeys.MakeOutcome.Made>().Subject;

    private async Task<StationKeys.Holder?> FindAsync(string key) =>
        (await app.Get<StationKeys>().FindAsync(key, CancellationToken.None) as StationKeys.Lookup.Valid)?.Holder;

    private async Task<StationKey> KeptAsync(int keyId)
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        return await db.StationKeys.SingleAsync(key => key.Id == keyId);
    }
}
