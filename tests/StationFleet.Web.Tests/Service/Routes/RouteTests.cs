using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service.Routes;
using StationFleet.Storage.Watch;
using StationFleet.Web.Service;
using StationFleet.Web.Service.Routes;
using StationFleet.Web.Tests.Accounts;
using Calendar = Ical.Net.Calendar;

namespace StationFleet.Web.Tests.Service.Routes;

/// <summary>The fleet's clock stands at 13:05 UTC; the fleet's own time zone is UTC in tests, so a day there goes on from 13:15.</summary>
public sealed class RouteTests(FleetApp app) : IClassFixture<FleetApp>, IAsyncLifetime
{
    private static readonly RouteQuery Tomorrow = new() { Day = new DateOnly(2026, 7, 9) };

    private Access _damRoad = null!;
    private Access _ferryCove = null!;

    public async Task InitializeAsync()
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        if (await db.Yards.AnyAsync())
        {
            _damRoad = await db.Accesses.SingleAsync(access => access.Slug == "dam-road");
            _ferryCove = await db.Accesses.SingleAsync(access => access.Slug == "ferry-cove");
            return;
        }

        Agency host = await app.Databases.AddAgencyAsync();
        await app.Databases.AddAsync(new Yard { Name = "District yard", Latitude = 44.40, Longitude = -115.20 });
        _damRoad = await AddAccessAsync(host, "dam-road", "Dam Road access", 44.41, -115.30);
        _ferryCove = await AddAccessAsync(host, "ferry-cove", "Ferry Cove", 44.45, -115.33);
        Station first = await app.Databases.AddStationAsync("COP-1");
        Station second = await app.Databases.AddStationAsync("COP-2");
        Station lost = await app.Databases.AddStationAsync("PORT-B");
        await app.Databases.AddPlacementAsync(first, _damRoad);
        await app.Databases.AddPlacementAsync(second, _ferryCove);
        await app.AddTicketAsync(118, first.Id, _damRoad.Id, Rule.IdleTool, "wrench", new IdleToolEvidence("Drain-plug wrench", null, FleetApp.Start.AddDays(-4), 61, 900, null));
        await app.AddTicketAsync(119, first.Id, _damRoad.Id, Rule.LowCharge, "", new LowChargeEvidence(0.34, 0.5));
        await app.AddTicketAsync(120, second.Id, _ferryCove.Id, Rule.TankFilling, "", new TankFillingEvidence(0.97, 208.2, 20));
        await app.AddTicketAsync(121, lost.Id, null, Rule.LowCharge, "", new LowChargeEvidence(0.34, 0.5));
    }

    public Task DisposeAsync() => Task.CompletedTask;

    [Fact]
    public async Task The_day_says_where_to_go_why_and_what_to_bring()
    {
        RouteView view = await ReadAsync(Tomorrow);

        view.Headline.Should().MatchRegex(@"^Two stops, \d+ min of driving, back at \d\d:\d\d\.$");
        view.Stops.SelectMany(stop => stop.Reasons).Select(reason => reason.Ticket).Should().BeEquivalentTo(new int?[] { 118, 119, 120 });
        view.Stops.Single(stop => stop.Place.StartsWith("Dam Road", StringComparison.Ordinal)).Reasons.Should().HaveCount(2, "two problems at one station are one stop");
        view.Bring.Select(thing => thing.Value).Should().Contain(["Spare: Drain-plug wrench", "Pump and hose", "Charged spare battery"]);
        view.InTransit.Should().Equal("PORT-B");
        view.Drawing!.Points.Count(point => point.Kind == RouteDrawing.PointKind.Stop).Should().Be(2);
    }

    [Fact]
    public async Task A_planned_sample_is_a_stop_until_it_is_taken_with_what_it_needs()
    {
        DateTimeOffset by = new(2026, 7, 11, 6, 0, 0, TimeSpan.Zero);
        StationId station = await app.ReadAsync(db => db.Stations.Where(row => row.Code == "COP-2").Select(row => row.Id).SingleAsync());
        await app.Databases.AddAsync(new ProblemRow
        {
            StationId = station, Rule = Rule.SampleDue, Part = "plan-1", Urgency = Urgency.DueSoon, Since = FleetApp.Start,
            Evidence = WatchJson.Write<Evidence>(new SampleDueEvidence(new DateOnly(2026, 7, 4), new DateOnly(2026, 7, 10), by, 3, 10)),
        });

        RouteView view = await ReadAsync(Tomorrow);

        view.Stops.Single(stop => stop.Access == _ferryCove.Id).Reasons
            .Should().Contain(reason => reason.Ticket == null && reason.Text.StartsWith("A tank sample, three grabs of 10 L, planned for Saturday 4 July to Friday 10 July.", StringComparison.Ordinal));
        view.Bring.Select(thing => thing.Value).Should().Contain(["Mesh net", "Sample bottles: three, and one for the blank", "Preservative", "Labels"]);
        (await ReadAsync(Tomorrow with { Day = new DateOnly(2026, 7, 8) })).Stops.SelectMany(stop => stop.Reasons)
            .Should().NotContain(reason => reason.Text.StartsWith("A tank sample", StringComparison.Ordinal), "it is more than two days ahead then");
        await app.ReadAsync(db => db.Problems.Where(row => row.Rule == Rule.SampleDue).ExecuteDeleteAsync());
    }

    [Fact]
    public async Task A_stop_left_out_is_told_and_can_be_taken_back()
    {
        RouteView view = await ReadAsync(Tomorrow.LeavingOut(_damRoad.Id));

        view.Stops.Should().ContainSingle().Which.Access.Should().Be(_ferryCove.Id);
        view.Lefts.Should().ContainSingle().Which.Why.Should().Be("Left out by choice.");
        (await ReadAsync(view.Query.Adding(_damRoad.Id))).Stops.Should().HaveCount(2);
    }

    [Fact]
    public async Task A_short_day_keeps_the_urgent_stop()
    {
        RouteView view = await ReadAsync(Tomorrow with { Hours = 1.8 });

        view.Stops.Should().ContainSingle().Which.Access.Should().Be(_ferryCove.Id, "its tank is 97 % full");
        view.Lefts.Should().ContainSingle().Which.Why.Should().Contain("would not end by 09:48");
    }

    [Fact]
    public async Task A_driving_time_that_people_set_holds_one_way()
    {
        string yard = $"yard/{await YardAsync()}";
        SaveDrive.Command drive = new() { From = yard, To = $"access/{_damRoad.Id.Value}", Minutes = "200", BothWays = false };
        (await app.Get<SaveDrive>().HandleAsync(Viewers.Biologist, drive, default)).Should().BeOfType<FormOutcome.Saved>();

        RouteView view = await ReadAsync(Tomorrow.LeavingOut(_ferryCove.Id));

        view.Stops[0].Driving.Should().Be("3 h 20 min");
        drive.Minutes = "";
        (await app.Get<SaveDrive>().HandleAsync(Viewers.Biologist, drive, default)).Should().BeOfType<FormOutcome.Saved>();
        (await ReadAsync(Tomorrow.LeavingOut(_ferryCove.Id))).Stops[0].Driving.Should().NotBe("3 h 20 min");
    }

    [Fact]
    public async Task What_is_typed_wrong_gets_its_sentence_and_changes_nothing()
    {
        RouteSetup before = await app.Get<ReadRouteSetup>().HandleAsync(Viewers.Biologist, default);
        SaveRouteSettings.Command settings = SaveRouteSettings.Command.Of(before.Settings, Domain.Quantities.UnitSystem.UsCustomary);
        (settings.Speed, settings.StartsAt, settings.Minutes[Rule.LowCharge]) = ("fast", "8", "-5");

        WrongFields(await app.Get<SaveRouteSettings>().HandleAsync(Viewers.Biologist, settings, default))
            .Should().BeEquivalentTo(nameof(settings.Speed), nameof(settings.StartsAt), SaveRouteSettings.FieldOf(Rule.LowCharge));
        WrongFields(await app.Get<SaveYard>().HandleAsync(Viewers.Biologist, new SaveYard.Command { Name = "District yard", Latitude = "91", Longitude = "x" }, default))
            .Should().BeEquivalentTo("Name", "Latitude", "Longitude");
        WrongFields(await app.Get<SaveDrive>().HandleAsync(Viewers.Biologist, new SaveDrive.Command { From = "access/999", To = "", Minutes = "-1" }, default))
            .Should().BeEquivalentTo("From", "To", "Minutes");
        (await app.Get<SaveYard>().HandleAsync(Viewers.Technician, new SaveYard.Command(), default)).Should().BeOfType<FormOutcome.NotAllowed>();
        (await app.Get<ReadRouteSetup>().HandleAsync(Viewers.Biologist, default)).Should().BeEquivalentTo(before);
    }

    [Fact]
    public async Task The_settings_come_back_as_they_were_saved()
    {
        RouteSetup before = await app.Get<ReadRouteSetup>().HandleAsync(Viewers.Biologist, default);
        SaveRouteSettings.Command settings = SaveRouteSettings.Command.Of(before.Settings, Domain.Quantities.UnitSystem.UsCustomary);
        settings.Minutes[Rule.TankFilling] = "60";

        await app.Get<SaveRouteSettings>().HandleAsync(Viewers.Biologist, settings, default);

        RouteSetup after = await app.Get<ReadRouteSetup>().HandleAsync(Viewers.Biologist, default);
        after.Settings.MinutesFor(Rule.TankFilling).Should().Be(60);
        after.Settings.Minutes.Should().HaveCount(1, "the others stay as the program has them");
        after.Settings.SpeedKmh.Should().BeApproximately(before.Settings.SpeedKmh, 0.1);
        await app.Get<SaveRouteSettings>().HandleAsync(Viewers.Biologist, SaveRouteSettings.Command.Of(new(), Domain.Quantities.UnitSystem.UsCustomary), default);
    }

    [Fact]
    public async Task A_day_that_is_set_orders_the_technicians_work()
    {
        (FleetUser crew, PlainBrowser browser) = await app.AddBrowserAsync("Field crew", FleetRoles.Technician);
        using PlainBrowser closing = browser;
        RouteQuery today = new() { Person = crew.Id, Day = new DateOnly(2026, 7, 8), StartsAt = new TimeOnly(8, 0), Hours = 8 };

        (await app.Get<SetRouteOfDay>().HandleAsync(Viewers.Technician, today, default)).Should().BeOfType<SetRouteOfDay.Outcome.NotAllowed>("it is another person's day");
        (await app.Get<SetRouteOfDay>().HandleAsync(Viewers.Biologist, today, default)).Should().BeOfType<SetRouteOfDay.Outcome.Saved>();

        PlainBrowser.Page page = await browser.GoAsync("/work");
        page.Status.Should().Be(HttpStatusCode.OK);
        page.Words.Should().Contain("Your day on the road: two stops");
        RouteView view = await ReadAsync(today);
        view.SetWords.Should().StartWith("Set by Biologist");
        string[] expected = [.. view.Stops.SelectMany(stop => stop.Reasons).Select(reason => $"T-{reason.Ticket}")];
        int[] at = [.. expected.Select(ticket => page.Words.IndexOf(ticket + " ·", StringComparison.Ordinal))];
        at.Should().OnlyContain(place => place > 0).And.BeInAscendingOrder();
    }

    [Fact]
    public async Task The_page_and_its_calendar_tell_the_same_day()
    {
        (_, PlainBrowser browser) = await app.AddBrowserAsync("Day planner", FleetRoles.Biologist);
        using PlainBrowser closing = browser;

        PlainBrowser.Page page = await browser.GoAsync("/route?day=2026-07-09");
        PlainBrowser.Page file = await browser.GoAsync("/route/day.ics?day=2026-07-09");

        RouteView view = await ReadAsync(Tomorrow);
        page.Words.Should().Contain(view.Headline).And.Contain("Stands at no access");
        Calendar calendar = Calendar.Load(file.Html)!;
        calendar.Events.Select(one => one.Start!.AsUtc.ToString("HH:mm", System.Globalization.CultureInfo.InvariantCulture)).Order()
            .Should().Equal(view.Stops.Select(stop => stop.Arrives));
        calendar.Events.Select(one => one.Uid).Should().OnlyHaveUniqueItems();
        (await browser.GoAsync($"/route/day.ics?day=2026-07-09&without={_damRoad.Id.Value}&without={_ferryCove.Id.Value}")).Status.Should().Be(HttpStatusCode.NotFound);
    }

    [Fact]
    public void An_address_that_makes_no_sense_is_a_day_without_choices()
    {
        RouteQuery.From("?person=&day=soon&start=25:99&hours=-1&from=x&without=cat&with=0").Should().BeEquivalentTo(new RouteQuery());
        RouteQuery chosen = Tomorrow with { Person = "a b", StartsAt = new TimeOnly(9, 30), Hours = 7.5, StartYard = 2, Without = [new AccessId(3), new AccessId(4)] };
        RouteQuery.From(chosen.ToText()).Should().BeEquivalentTo(chosen);
    }

    private static Dictionary<string, string>.KeyCollection WrongFields(FormOutcome outcome) => outcome.Should().BeOfType<FormOutcome.Refused>().Subject.Wrong.Keys;

    private Task<RouteView> ReadAsync(RouteQuery query) => app.Get<ReadRoute>().HandleAsync(Viewers.Biologist, query, default);

    private async Task<int> YardAsync()
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        return (await db.Yards.SingleAsync()).Id;
    }

    private Task<Access> AddAccessAsync(Agency host, string slug, string name, double latitude, double longitude) => app.Databases.AddAsync(new Access
    {
        Slug = slug, Name = name, Water = "Copperline Reservoir", HostId = host.Id, TimeZone = "America/Boise", Latitude = latitude, Longitude = longitude,
    });
}
