using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet.Office;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Office;

public sealed class KnownDaysTests(FleetApp app) : IClassFixture<FleetApp>
{
    [Fact]
    public async Task An_empty_form_says_what_each_field_needs()
    {
        SaveKnownDays.Outcome outcome = await SaveAsync(new SaveKnownDays.Command());

        outcome.Should().BeOfType<SaveKnownDays.Outcome.Refused>().Which.Wrong.Should().BeEquivalentTo(new Dictionary<string, string>
        {
            [nameof(SaveKnownDays.Command.Name)] = "Write what it is, such as Fishing derby.",
            [nameof(SaveKnownDays.Command.FirstDay)] = "Write a date, such as 2026-07-04.",
            [nameof(SaveKnownDays.Command.Factor)] = "Write a number, such as 12.5.",
        });
    }

    [Theory]
    [InlineData("LastDay", "2026-07-24", "The last day must not lie before the first.")]
    [InlineData("LastDay", "2026-10-01", "Name at most 61 days at once: what lasts longer is usual.")]
    [InlineData("LastDay", "tomorrow", "Write a date, such as 2026-07-04.")]
    [InlineData("FirstDay", "2062-07-25", "Write a date from 2021-07-08 to 2031-07-08.")]
    [InlineData("Factor", "0", "Write a number from 0.05 to 20.")]
    [InlineData("Factor", "twice", "Write a number, such as 12.5.")]
    [InlineData("Factor", "1", "1 is the usual: write more, such as 2 for twice the boats, or less.")]
    [InlineData("Access", "9999", "Choose an access of the list.")]
    [InlineData("Access", "the lake", "Choose an access of the list.")]
    public async Task A_wrong_value_is_told_beside_its_field(string field, string value, string sentence)
    {
        SaveKnownDays.Command typed = Derby();
        typeof(SaveKnownDays.Command).GetProperty(field)!.SetValue(typed, value);

        SaveKnownDays.Outcome outcome = await SaveAsync(typed);

        outcome.Should().BeOfType<SaveKnownDays.Outcome.Refused>().Which.Wrong.Should()
            .BeEquivalentTo(new Dictionary<string, string> { [field] = sentence });
    }

    [Fact]
    public async Task Days_of_one_access_reach_the_watch_over_its_station_only_until_they_are_removed()
    {
        Access here = await app.AddAccessAsync("derby");
        Access there = await app.AddAccessAsync("elsewhere");
        Station visited = await app.AddStationAsync("DERBY-1", here);
        Station quiet = await app.AddStationAsync("DERBY-2", there);
        SaveKnownDays.Command typed = Derby("Derby at one access");
        typed.Access = FormIds.Of(here.Id);

        (await SaveAsync(typed)).Should().BeOfType<SaveKnownDays.Outcome.Saved>();
        IReadOnlyList<KnownEvent> added = await EventsAsync(visited, typed.Name);
        IReadOnlyList<KnownEvent> other = await EventsAsync(quiet, typed.Name);
        KnownDays stored = await app.FindAsync<KnownDays>(row => row.Name == typed.Name);
        SaveKnownDays.Command change = Derby(typed.Name, stored.Id);
        (change.LastDay, change.Factor) = ("", "0.5");
        (await SaveAsync(change)).Should().BeOfType<SaveKnownDays.Outcome.Saved>();
        IReadOnlyList<KnownEvent> changed = await EventsAsync(quiet, typed.Name);
        RemoveKnownDays.Outcome removed = await app.Get<RemoveKnownDays>()
            .HandleAsync(Viewers.Biologist, new RemoveKnownDays.Command(stored.Id), CancellationToken.None);

        added.Should().Equal(new KnownEvent(typed.Name, new DateOnly(2026, 7, 25), new DateOnly(2026, 7, 26), 2));
        other.Should().BeEmpty();
        changed.Should().Equal(new KnownEvent(typed.Name, new DateOnly(2026, 7, 25), new DateOnly(2026, 7, 25), 0.5));
        removed.Should().BeOfType<RemoveKnownDays.Outcome.Removed>();
        (await EventsAsync(visited, typed.Name)).Should().BeEmpty();
    }

    [Fact]
    public async Task The_same_days_are_not_named_twice_but_another_year_s_are()
    {
        SaveKnownDays.Command typed = Derby("Regatta");
        (await SaveAsync(typed)).Should().BeOfType<SaveKnownDays.Outcome.Saved>();
        SaveKnownDays.Command again = Derby("Regatta");
        again.FirstDay = "2026-07-26";
        SaveKnownDays.Command nextYear = Derby("Regatta");
        (nextYear.FirstDay, nextYear.LastDay) = ("2027-07-24", "2027-07-25");

        (await SaveAsync(again)).Should().BeOfType<SaveKnownDays.Outcome.Refused>().Which.Wrong.Keys.Should().Equal(nameof(SaveKnownDays.Command.Name));
        (await SaveAsync(nextYear)).Should().BeOfType<SaveKnownDays.Outcome.Saved>();
    }

    [Fact]
    public async Task An_agency_s_people_name_days_of_their_accesses_only_and_a_technician_none()
    {
        Access access = await app.AddAccessAsync("theirs");
        Agency stranger = await app.AgencyAsync("Sorrel County Parks");
        SaveKnownDays.Command forAll = Derby("Their derby");
        SaveKnownDays.Command forOne = Derby("Their derby");
        forOne.Access = FormIds.Of(access.Id);

        (await SaveAsync(forAll, Viewers.BiologistOf(access.HostId))).Should().BeOfType<SaveKnownDays.Outcome.Refused>()
            .Which.Wrong.For(nameof(SaveKnownDays.Command.Access)).Should().Be("Choose an access of your agency.");
        (await SaveAsync(forOne, Viewers.BiologistOf(stranger.Id))).Should().BeOfType<SaveKnownDays.Outcome.Refused>();
        (await SaveAsync(forOne, Viewers.Technician)).Should().BeOfType<SaveKnownDays.Outcome.NotAllowed>();
        (await SaveAsync(forOne, Viewers.BiologistOf(access.HostId))).Should().BeOfType<SaveKnownDays.Outcome.Saved>();
        KnownDays stored = await app.FindAsync<KnownDays>(row => row.Name == "Their derby");
        (await SaveAsync(Derby("Taken over", stored.Id), Viewers.BiologistOf(stranger.Id))).Should().BeOfType<SaveKnownDays.Outcome.NotAllowed>();
        (await app.Get<RemoveKnownDays>().HandleAsync(Viewers.BiologistOf(stranger.Id), new RemoveKnownDays.Command(stored.Id), CancellationToken.None))
            .Should().BeOfType<RemoveKnownDays.Outcome.NotAllowed>();
        ListKnownDays.View view = await app.Get<ListKnownDays>().HandleAsync(Viewers.BiologistOf(access.HostId), CancellationToken.None);
        view.Rows.Single(row => row.Id == stored.Id).MayChange.Should().BeTrue();
        view.MayChangeAll.Should().BeFalse();
    }

    [Fact]
    public async Task The_page_says_what_is_next_and_lists_past_days_last()
    {
        using FleetApp own = new();
        await own.InitializeAsync();
        (_, PlainBrowser browser) = await own.AddBrowserAsync("biologist", FleetRoles.Biologist);
        PlainBrowser.Page empty = await browser.GoAsync("/office/known-days");
        foreach ((string name, string first, string last, string factor) in new[]
        {
            ("Independence Day weekend", "2026-07-03", "2026-07-05", "1.5"), ("Otter Bend fishing derby", "2026-07-25", "2026-07-26", "2"),
        })
        {
            await own.Get<SaveKnownDays>().HandleAsync(
                Viewers.Biologist, new SaveKnownDays.Command { Name = name, FirstDay = first, LastDay = last, Factor = factor }, CancellationToken.None);
        }

        PlainBrowser.Page page = await browser.GoAsync("/office/known-days");

        empty.Words.Should().Contain("No known days yet: the watch expects the usual boats every day.");
        page.Words.Should().Contain("Otter Bend fishing derby is next, from Sat 25 Jul 2026: twice the usual boats.");
        page.Words.LastIndexOf("Otter Bend fishing derby", StringComparison.Ordinal)
            .Should().BeLessThan(page.Words.IndexOf("Independence Day weekend", StringComparison.Ordinal));
        (await browser.GoAsync("/office")).Words.Should().Contain("One lies ahead.");
        await ((IAsyncLifetime)own).DisposeAsync();
    }

    private static SaveKnownDays.Command Derby(string name = "Otter Bend fishing derby", int? id = null) =>
        new() { Id = id, Name = name, FirstDay = "2026-07-25", LastDay = "2026-07-26", Factor = "2" };

    private Task<SaveKnownDays.Outcome> SaveAsync(SaveKnownDays.Command typed, Viewer? viewer = null) =>
        app.Get<SaveKnownDays>().HandleAsync(viewer ?? Viewers.Biologist, typed, CancellationToken.None);

    private async Task<IReadOnlyList<KnownEvent>> EventsAsync(Station station, string name) =>
        [.. (await app.Get<StationSetupReader>().ReadAsync(station.Id, FleetApp.Start, TimeZoneInfo.Utc, CancellationToken.None))!.Events.Where(known => known.Name == name)];
}
