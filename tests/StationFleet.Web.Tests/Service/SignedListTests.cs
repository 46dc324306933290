using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Office;

namespace StationFleet.Web.Tests.Service;

/// <summary>A technician without script signs a portable's checklist; then the Office may place it. Now is Wednesday 8 July 2026, 07:05 in Boise.</summary>
public sealed class SignedListTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _last = 40;
    private readonly string _code = $"PORT-{Interlocked.Increment(ref _last)}";

    private string Address => $"/stations/{_code}/checklists/clean-to-move";

    [Fact]
    public async Task A_portable_that_nobody_signed_clean_may_leave_but_not_be_placed_anew()
    {
        (Station station, Access next) = await SceneAsync();

        MoveStation.Outcome straight = await MoveAsync(station, FormIds.Of(next.Id), "2026-07-08T06:30");
        MoveStation.Outcome away = await MoveAsync(station, MoveStation.InTransit, "2026-07-08T06:30");
        MoveStation.Outcome later = await MoveAsync(station, FormIds.Of(next.Id), "2026-07-08T07:00");

        straight.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.For(nameof(MoveStation.Command.To)).Should()
            .Be($"Sign “clean to move” first ({Address}): it must not carry anything from one water to the next.");
        away.Should().BeOfType<MoveStation.Outcome.Moved>();
        later.Should().BeOfType<MoveStation.Outcome.Refused>();
    }

    [Fact]
    public async Task Signed_and_dry_it_may_be_placed_once_and_not_the_time_after()
    {
        (Station station, Access next) = await SceneAsync();
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"Field Crew {_code}", FleetRoles.Technician);
        using PlainBrowser technician = browser;

        PlainBrowser.Page signed = await SignAsync(technician, "2026-07-08T12:00", "0", "1", "2", "3", "4");
        MoveStation.Outcome before = await MoveAsync(station, FormIds.Of(next.Id), "2026-07-08T07:00");
        app.Clock.Advance(TimeSpan.FromHours(1));
        MoveStation.Outcome wet = await MoveAsync(station, FormIds.Of(next.Id), "2026-07-08T08:00");
        app.Clock.Advance(TimeSpan.FromHours(5));
        MoveStation.Outcome dry = await MoveAsync(station, FormIds.Of(next.Id), "2026-07-08T12:30");
        app.Clock.Advance(TimeSpan.FromHours(1));
        MoveStation.Outcome again = await MoveAsync(station, FormIds.Of((await app.AddAccessAsync($"third-{_code}".ToLowerInvariant())).Id), "2026-07-08T13:30");

        signed.Location.Should().EndWith($"{Address}?done=true");
        before.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.For("To").Should().StartWith("It was signed clean to move only");
        wet.Should().BeOfType<MoveStation.Outcome.Refused>().Which.Wrong.For("To").Should()
            .Be($"It dries until Wed 8 Jul 2026, 12:00, as Field Crew {_code} wrote. Place it after that.");
        dry.Should().BeOfType<MoveStation.Outcome.Moved>();
        again.Should().BeOfType<MoveStation.Outcome.Refused>("it has stood somewhere since");
        (await technician.GoAsync($"/stations/{_code}")).Words.Should().Contain("Clean to move signed").And.Contain("dries until Wed 8 Jul 2026, 12:00");
    }

    [Fact]
    public async Task A_correction_to_another_access_asks_for_the_list_of_then()
    {
        (Station station, Access next) = await SceneAsync();
        Access third = await app.AddAccessAsync($"third-{_code}".ToLowerInvariant());
        Placement first = await app.FindAsync<Placement>(row => row.StationId == station.Id);
        await app.Get<CorrectPlacement>().HandleAsync(
            Viewers.Biologist, Correction(station, first, first.AccessId, "2026-06-28T07:05", "2026-07-03T08:00"), CancellationToken.None);
        Placement second = await app.Databases.AddPlacementAsync(station, next, new DateTimeOffset(2026, 7, 5, 14, 0, 0, TimeSpan.Zero));

        CorrectPlacement.Outcome unsigned = await app.Get<CorrectPlacement>().HandleAsync(
            Viewers.Biologist, Correction(station, second, third.Id, "2026-07-05T08:00", ""), CancellationToken.None);
        CorrectPlacement.Outcome time = await app.Get<CorrectPlacement>().HandleAsync(
            Viewers.Biologist, Correction(station, second, next.Id, "2026-07-05T09:00", ""), CancellationToken.None);
        await SignedAtAsync(station, new DateTimeOffset(2026, 7, 4, 14, 0, 0, TimeSpan.Zero));
        await SignedAtAsync(station, FleetApp.Start);
        CorrectPlacement.Outcome signed = await app.Get<CorrectPlacement>().HandleAsync(
            Viewers.Biologist, Correction(station, second, third.Id, "2026-07-05T09:00", ""), CancellationToken.None);

        unsigned.Should().BeOfType<CorrectPlacement.Outcome.Refused>().Which.Wrong.For(nameof(CorrectPlacement.Command.Access)).Should()
            .StartWith("Sign “clean to move” first");
        time.Should().BeOfType<CorrectPlacement.Outcome.Saved>("it stays at the access");
        signed.Should().BeOfType<CorrectPlacement.Outcome.Saved>("it was signed between the two, and a later list changes nothing");
    }

    [Fact]
    public async Task A_list_with_an_open_step_or_no_drying_time_is_refused_beside_the_field_and_keeps_what_was_ticked()
    {
        await SceneAsync();
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"Field Crew {_code}", FleetRoles.Technician);
        using PlainBrowser technician = browser;

        PlainBrowser.Page answer = await SignAsync(technician, "", "0", "2", "3");

        answer.Status.Should().Be(HttpStatusCode.OK);
        answer.WrongBeside("Ticked").Should().Be("2 steps are not ticked. Sign when all are done.");
        answer.Words.Should().Contain("Write a date and a time.");
        answer.IsChecked("Ticked", "2").Should().BeTrue();
        answer.IsChecked("Ticked", "1").Should().BeFalse();
        (await app.ReadAsync(db => db.SignedChecklists.CountAsync(row => row.Who == $"Field Crew {_code}"))).Should().Be(0);
    }

    [Fact]
    public async Task The_season_opening_asks_for_every_tool_that_hangs_there()
    {
        (Station station, _) = await SceneAsync();
        await app.Databases.AddToolAsync(station, "left-vacuum");
        await app.Databases.AddToolAsync(station, "grabber", ToolKind.Grabber);
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"Field Crew {_code}", FleetRoles.Technician);
        using PlainBrowser technician = browser;

        PlainBrowser.Page page = await technician.GoAsync($"/stations/{_code}/checklists/season-opening");

        page.Words.Should().Contain("left-vacuum: used once, it works, and its count rose.").And.Contain("grabber: used once, it works, and its count rose.");
    }

    [Fact]
    public async Task A_supervisor_reads_the_lists_and_may_not_sign()
    {
        await SceneAsync();
        (_, PlainBrowser browser) = await app.AddBrowserAsync($"Boss {_code}", FleetRoles.Supervisor);
        using PlainBrowser supervisor = browser;

        PlainBrowser.Page answer = await SignAsync(supervisor, "2026-07-08T06:00", "0", "1", "2", "3", "4");

        answer.Words.Should().Contain("Your role only reads checklists.");
        (await app.ReadAsync(db => db.SignedChecklists.CountAsync(row => row.Who == $"Boss {_code}"))).Should().Be(0);
    }

    [Fact]
    public void Every_list_has_its_steps_its_cautions_and_an_address_of_its_own()
    {
        foreach (SignedList list in Enum.GetValues<SignedList>())
        {
            SignedLists.Of(SignedLists.Slug(list)).Should().Be(list);
            SignedLists.Steps(list, []).Should().HaveCountGreaterThan(3).And.OnlyHaveUniqueItems();
            SignedLists.Beware(list).Should().NotBeEmpty();
        }
    }

    private async Task<(Station Station, Access Next)> SceneAsync()
    {
        Access first = await app.AddAccessAsync($"first-{_code}".ToLowerInvariant());
        Station station = await app.Databases.AddStationAsync(_code, isPortable: true);
        await app.Databases.AddPlacementAsync(station, first, FleetApp.Start.AddDays(-10));
        return (station, await app.AddAccessAsync($"next-{_code}".ToLowerInvariant(), "Ferry Cove"));
    }

    private static CorrectPlacement.Command Correction(Station station, Placement placement, AccessId access, string from, string to) =>
        new() { Station = station.Id, Id = placement.Id, Access = FormIds.Of(access), From = from, To = to };

    private Task<SignedChecklist> SignedAtAsync(Station station, DateTimeOffset at) => app.Databases.AddAsync(new SignedChecklist
    {
        StationId = station.Id, List = SignedList.CleanToMove, At = at, Who = "field crew", DryUntil = at, Steps = "All.", IdempotencyKey = Guid.NewGuid().ToString("N"),
    });

    private async Task<PlainBrowser.Page> SignAsync(PlainBrowser browser, string dryUntil, params string[] ticked) => await browser.SendAsync(
        Address, await browser.GoAsync(Address), "Note", "", [.. ticked.Select(step => ("Ticked", step)), ("DryUntil", dryUntil)]);

    private Task<MoveStation.Outcome> MoveAsync(Station station, string to, string at) => app.Get<MoveStation>().HandleAsync(
        Viewers.Biologist, new MoveStation.Command { Station = station.Id, To = to, At = at }, CancellationToken.None);
}
