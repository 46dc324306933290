using System.Net;
using StationFleet.Domain.Service.Duty;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Duty;
using StationFleet.Web.Platform;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Duty;

public sealed class RosterTests(FleetApp app) : IClassFixture<FleetApp>
{
    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task Hours_and_an_absence_show_who_is_on_duty()
    {
        await app.Databases.AddAccessAsync("roster-landing");
        FleetUser ann = await app.AddPersonAsync("ann@juniper-basin.example", "correct horse battery", FleetRoles.Technician);
        FleetUser ben = await app.AddPersonAsync("ben@juniper-basin.example", "correct horse battery", FleetRoles.Technician);
        SaveDuty.Command hours = new() { Person = ann.Id, Days = Weekdays.WorkingWeek, From = "06:00", To = "18:00" };
        SaveAbsence.Command absence = new() { Person = ann.Id, StandIn = ben.Id, FirstDay = "2026-07-08" };

        (await app.Get<SaveDuty>().HandleAsync(Viewers.Biologist, hours, _cancel)).Should().BeOfType<SaveDuty.Outcome.Saved>();
        ReadRoster.View before = await app.Get<ReadRoster>().HandleAsync(Viewers.Technician, _cancel);
        (await app.Get<SaveAbsence>().HandleAsync(Viewers.Technician with { UserId = ann.Id }, absence, _cancel)).Should().BeEmpty("people say themselves that they are away");
        ReadRoster.View after = await app.Get<ReadRoster>().HandleAsync(Viewers.Technician, _cancel);

        before.OnDuty.Should().Contain(now => now.Access == "roster-landing" && now.Person == "ann@juniper-basin.example");
        after.OnDuty.Should().Contain(now => now.Access == "roster-landing" && now.Person == "ben@juniper-basin.example");
        (_, PlainBrowser browser) = await app.AddBrowserAsync("Roster Reader", FleetRoles.Technician);
        using PlainBrowser closing = browser;
        PlainBrowser.Page page = await browser.GoAsync("/roster");
        page.Words.Should().Contain("ben@juniper-basin.example is on duty now.").And.Contain("Mon to Fri 06:00 to 18:00").And.NotContain("Add hours");
    }

    [Fact]
    public async Task What_is_wrong_stands_beside_its_field_and_technicians_only_read_the_hours()
    {
        SaveDuty.Command typed = new() { Person = "nobody", Access = "999", Days = Weekdays.None, From = "25:00", To = "" };

        WrongFields wrong = (await app.Get<SaveDuty>().HandleAsync(Viewers.Biologist, typed, _cancel)).Should().BeOfType<SaveDuty.Outcome.Refused>().Subject.Wrong;
        WrongFields? away = await app.Get<SaveAbsence>().HandleAsync(
            Viewers.Biologist, new SaveAbsence.Command { Person = "x", StandIn = "x", FirstDay = "soon", LastDay = "2026-01-01" }, _cancel);

        wrong.Keys.Should().BeEquivalentTo("Person", "Access", "Days", "From", "To");
        away!.Keys.Should().BeEquivalentTo("Person", "StandIn", "FirstDay", "LastDay");
        (await app.Get<SaveDuty>().HandleAsync(Viewers.Technician, typed, _cancel)).Should().BeOfType<SaveDuty.Outcome.NotAllowed>();
        (await app.Get<SaveAbsence>().HandleAsync(Viewers.Technician, new SaveAbsence.Command { Person = "another" }, _cancel)).Should().BeNull();
        (await app.Get<RemoveFromRoster>().HoursAsync(Viewers.Technician, 1, _cancel)).Should().BeFalse();
    }

    [Fact]
    public async Task My_mails_are_chosen_on_a_plain_page()
    {
        (FleetUser person, PlainBrowser browser) = await app.AddBrowserAsync("Choosing Person", FleetRoles.Technician);
        using PlainBrowser closing = browser;
        PlainBrowser.Page page = await browser.GoAsync("/account/mail");
        page.Words.Should().Contain("You get the morning mail.");

        PlainBrowser.Page wrong = await browser.SendAsync("/account/mail", page, "send", "yes", ("Typed.Weekly", "true"), ("Typed.QuietFrom", "21:00"), ("Typed.QuietTo", ""));
        wrong.Words.Should().Contain("Write both times, or neither.");
        PlainBrowser.Page saved = await browser.SendAsync("/account/mail", page, "send", "yes", ("Typed.Weekly", "true"), ("Typed.QuietFrom", "21:00"), ("Typed.QuietTo", "05:30"));

        saved.Status.Should().Be(HttpStatusCode.Redirect);
        (await browser.GoAsync("/account/mail?done=true")).Words.Should().Contain("You get the weekly mail.").And.Contain("Saved.");
        await using Storage.Platform.FleetDbContext db = await app.Databases.CreateDbContextAsync();
        db.MailChoices.Single(row => row.PersonId == person.Id).Should().BeEquivalentTo(
            new { Morning = (bool?)false, Weekly = (bool?)true, QuietFrom = new TimeOnly(21, 0), QuietTo = new TimeOnly(5, 30) });
    }
}
