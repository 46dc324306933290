using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Office;

/// <summary>Moves of a station that stands at its first access since 8 June 2026, 13:05 UTC.</summary>
public sealed class PlacementTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _stations;

    [Fact]
    public async Task A_move_ends_one_placement_and_begins_the_next_at_the_same_instant()
    {
        (Station station, Access _, Access second) = await SceneAsync();

        (await MoveAsync(station, FormIds.Of(second.Id), "2026-07-01T09:30")).Should().BeOfType<MoveStation.Outcome.Moved>();

        DateTimeOffset at = new(2026, 7, 1, 15, 30, 0, TimeSpan.Zero);
        (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To == at)).From.Should().Be(station.Created);
        (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To == null)).Should()
            .BeEquivalentTo(new { AccessId = second.Id, From = at });
    }

    [Fact]
    public async Task A_station_can_be_left_in_transit_and_placed_later()
    {
        (Station station, Access _, Access second) = await SceneAsync();

        await MoveAsync(station, MoveStation.InTransit, "2026-07-01T09:00");
        MoveStation.Outcome again = await MoveAsync(station, MoveStation.InTransit, "2026-07-02T09:00");
        MoveStation.Outcome beforeThat = await MoveAsync(station, FormIds.Of(second.Id), "2026-06-30T09:00");
        MoveStation.Outcome placed = await MoveAsync(station, FormIds.Of(second.Id), "2026-07-03T09:00");

        again.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.For(nameof(MoveStation.Command.To)).Should().Be("It is in transit already.");
        beforeThat.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.Should().ContainKey(nameof(MoveStation.Command.At));
        placed.Should().BeOfType<MoveStation.Outcome.Moved>();
    }

    [Fact]
    public async Task A_move_to_nowhere_to_where_it_stands_or_into_the_future_is_refused()
    {
        (Station station, Access first, Access second) = await SceneAsync();

        MoveStation.Outcome nowhere = await MoveAsync(station, "", "2026-07-01T09:00");
        MoveStation.Outcome same = await MoveAsync(station, FormIds.Of(first.Id), "2026-07-01T09:00");
        MoveStation.Outcome future = await MoveAsync(station, FormIds.Of(second.Id), "2026-07-09T09:00");

        nowhere.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.For(nameof(MoveStation.Command.To)).Should().Be("Choose an access, or in transit.");
        same.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.For(nameof(MoveStation.Command.To)).Should().Be("It stands there already.");
        future.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.For(nameof(MoveStation.Command.At)).Should()
            .Be("This time has not come yet. Note the move when it is done.");
    }

    [Fact]
    public async Task A_move_that_is_noted_late_moves_the_hours_since_then()
    {
        (Station station, Access _, Access second) = await SceneAsync();
        DateTimeOffset before = new(2026, 7, 1, 14, 30, 0, TimeSpan.Zero);
        DateTimeOffset after = new(2026, 7, 1, 16, 30, 0, TimeSpan.Zero);
        await WriteAsync(station, before, after);

        await MoveAsync(station, FormIds.Of(second.Id), "2026-07-01T09:30");

        PlacementId old = (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To != null)).Id;
        PlacementId present = (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To == null)).Id;
        (await PlacementsOfHoursAsync(station)).Should().Equal(old, present);
    }

    [Fact]
    public async Task A_corrected_placement_takes_its_hours_along_and_a_removed_one_leaves_them_in_transit()
    {
        (Station station, Access _, Access second) = await SceneAsync();
        await WriteAsync(station, new(2026, 7, 1, 14, 30, 0, TimeSpan.Zero), new(2026, 7, 1, 16, 30, 0, TimeSpan.Zero));
        await MoveAsync(station, FormIds.Of(second.Id), "2026-07-01T09:30");
        PlacementId old = (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To != null)).Id;
        PlacementId present = (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To == null)).Id;

        CorrectPlacement.Outcome corrected = await CorrectAsync(station, present, second, "2026-07-01T12:00", "");
        PlacementId?[] then = await PlacementsOfHoursAsync(station);
        RemovePlacement.Outcome removed = await app.Get<RemovePlacement>().HandleAsync(
            Viewers.Biologist, new RemovePlacement.Command(station.Id, old), CancellationToken.None);

        corrected.Should().BeOfType<CorrectPlacement.Outcome.Saved>();
        then.Should().Equal(old, null);
        removed.Should().BeOfType<RemovePlacement.Outcome.Removed>();
        (await PlacementsOfHoursAsync(station)).Should().AllSatisfy(placement => placement.Should().BeNull()).And.HaveCount(2);
    }

    [Fact]
    public async Task A_station_cannot_stand_in_two_places_and_an_end_lies_after_its_start()
    {
        (Station station, Access first, Access second) = await SceneAsync();
        await MoveAsync(station, FormIds.Of(second.Id), "2026-07-01T09:30");
        PlacementId old = (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To != null)).Id;

        CorrectPlacement.Outcome both = await CorrectAsync(station, old, first, "2026-06-08T08:00", "2026-07-02T08:00");
        CorrectPlacement.Outcome backwards = await CorrectAsync(station, old, first, "2026-06-08T08:00", "2026-06-08T07:00");

        both.Should().BeOfType<CorrectPlacement.Outcome.Refused>().Which.Wrong.For(nameof(CorrectPlacement.Command.From)).Should()
            .Be("The station stood elsewhere for a part of this time. Correct that placement first.");
        backwards.Should().BeOfType<CorrectPlacement.Outcome.Refused>().Which.Wrong.Should().ContainKey(nameof(CorrectPlacement.Command.To));
    }

    [Fact]
    public async Task Where_a_station_stood_in_final_time_can_no_longer_be_changed()
    {
        (Station station, Access first, Access second) = await SceneAsync();
        await MoveAsync(station, FormIds.Of(second.Id), "2026-07-01T09:30");
        PlacementId old = (await app.FindAsync<Placement>(row => row.StationId == station.Id && row.To != null)).Id;
        (await app.Get<MeasurementWriter>().SealAsync(station.Id, new(2026, 6, 20, 6, 0, 0, TimeSpan.Zero), CancellationToken.None)).Should().BeTrue();
        const string final = "The figures up to Sat 20 Jun 2026, 00:00 are final: their raw readings are no longer kept. Where the station stood until then can no longer be changed.";

        CorrectPlacement.Outcome start = await CorrectAsync(station, old, first, "2026-06-09T08:00", "2026-07-01T09:30");
        CorrectPlacement.Outcome place = await CorrectAsync(station, old, second, "2026-06-08T07:05", "2026-07-01T09:30");
        CorrectPlacement.Outcome end = await CorrectAsync(station, old, first, "2026-06-08T07:05", "2026-06-30T09:30");
        RemovePlacement.Outcome removed = await app.Get<RemovePlacement>().HandleAsync(
            Viewers.Biologist, new RemovePlacement.Command(station.Id, old), CancellationToken.None);

        start.Should().BeOfType<CorrectPlacement.Outcome.Refused>().Which.Wrong.For(nameof(CorrectPlacement.Command.From)).Should().Be(final);
        place.Should().BeOfType<CorrectPlacement.Outcome.Refused>();
        end.Should().BeOfType<CorrectPlacement.Outcome.Saved>("it changes later time only");
        removed.Should().BeOfType<RemovePlacement.Outcome.IsFinal>();
        (await app.FindAsync<Placement>(row => row.Id == old)).AccessId.Should().Be(first.Id);
    }

    private async Task<(Station Station, Access First, Access Second)> SceneAsync()
    {
        int number = Interlocked.Increment(ref _stations);
        Access first = await app.AddAccessAsync($"first-{number}");
        return (await app.AddStationAsync($"PORT-{number}", first), first, await app.AddAccessAsync($"second-{number}", "Ferry Cove"));
    }

    private Task<MoveStation.Outcome> MoveAsync(Station station, string to, string at) => app.Get<MoveStation>().HandleAsync(
        Viewers.Biologist, new MoveStation.Command { Station = station.Id, To = to, At = at }, CancellationToken.None);

    private Task<CorrectPlacement.Outcome> CorrectAsync(Station station, PlacementId id, Access access, string from, string to) =>
        app.Get<CorrectPlacement>().HandleAsync(
            Viewers.Biologist,
            new CorrectPlacement.Command { Station = station.Id, Id = id, Access = FormIds.Of(access.Id), From = from, To = to },
            CancellationToken.None);

    private async Task WriteAsync(Station station, params DateTimeOffset[] times)
    {
        IReadOnlyList<IndexedMeasurement> measurements =
            [.. times.Select((at, index) => new IndexedMeasurement(index, new Measurement(MeasurementName.BatteryVoltage, at, 12.8), ""))];
        (await app.Get<MeasurementWriter>().WriteAsync(
            new ReportToStore(station.Id, FleetApp.Start, measurements, []), CancellationToken.None)).Should().BeOfType<WriteOutcome.Stored>();
    }

    private async Task<PlacementId?[]> PlacementsOfHoursAsync(Station station) =>
        [.. (await app.Get<MeasurementReader>().HoursAsync(
            station.Id, [MeasurementName.BatteryVoltage], station.Created, FleetApp.Start, CancellationToken.None)).Select(hour => hour.RollUp.Key.Placement)];
}
