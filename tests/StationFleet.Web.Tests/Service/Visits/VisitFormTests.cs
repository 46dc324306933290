using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Service;
using StationFleet.Storage.Service.Visits;
using StationFleet.Web.Service;
using StationFleet.Web.Service.Visits;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Service.Visits;

/// <summary>The ticket's form as a browser without script sends it.</summary>
public sealed class VisitFormTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _lastNumber = 300;
    private readonly int _number = Interlocked.Add(ref _lastNumber, 10);

    private string Path => $"/tickets/{_number}";

    [Fact]
    public async Task One_visit_closes_two_tickets_and_is_one_visit()
    {
        using PlainBrowser browser = await StartAsync();
        await AddOtherAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        page.Words.Should().Contain($"T-{_number + 1} · ");

        PlainBrowser.Page answer = await browser.SendAsync(
            Path, page, "Act", "close", ("Outcome", "Fixed"), ("Minutes", "40"), ("Hours", "Match"), ("Award", "JBWD-2026-02"), ("Also", Also(page)));

        answer.Location.Should().EndWith("?done=close");
        Ticket other = await app.TicketAsync(_number + 1);
        other.Should().BeEquivalentTo(new { State = TicketState.Closed, Outcome = TicketOutcome.Fixed });
        ServiceVisit visit = (await app.VisitsAsync(_number)).Should().ContainSingle().Subject;
        visit.Should().BeEquivalentTo(new { Minutes = 40, Hours = HoursKind.Match, Award = "JBWD-2026-02" });
        (await app.VisitsAsync(_number + 1)).Should().BeEmpty("minutes count once");
        (await app.ReadAsync(db => db.VisitTickets.Where(pair => pair.VisitId == visit.Id).ToListAsync())).Should().ContainSingle().Which.TicketId.Should().Be(other.Id);
        (await app.EventsAsync(_number + 1))[^1].Note.Should().EndWith($"On the visit for T-{_number}.");
    }

    [Fact]
    public async Task When_somebody_took_the_other_ticket_meanwhile_nothing_is_closed()
    {
        using PlainBrowser browser = await StartAsync();
        await AddOtherAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        (_, PlainBrowser colleague) = await app.AddBrowserAsync($"colleague {_number}", FleetRoles.Technician);
        await colleague.SendAsync($"/tickets/{_number + 1}", await colleague.GoAsync($"/tickets/{_number + 1}"), "Act", "take");

        PlainBrowser.Page answer = await browser.SendAsync(Path, page, "Act", "close", ("Outcome", "Fixed"), ("Found", "Both."), ("Also", Also(page)));

        answer.Words.Should().Contain($"colleague {_number} took it");
        answer.TextArea("Found").Should().Be("Both.");
        (await app.TicketAsync(_number)).State.Should().Be(TicketState.New);
        (await app.TicketAsync(_number + 1)).State.Should().Be(TicketState.Taken);
        (await app.VisitsAsync(_number)).Should().BeEmpty();
        colleague.Dispose();
    }

    [Fact]
    public async Task A_pump_out_says_where_it_went_and_not_to_a_place_whose_permission_has_ended()
    {
        using PlainBrowser browser = await StartAsync();
        DisposalSite good = await SiteAsync($"Town works {_number}", null);
        DisposalSite ended = await SiteAsync($"Old lagoon {_number}", new DateOnly(2026, 6, 30));
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page nowhere = await browser.SendAsync(Path, page, "Act", "close", ("Outcome", "Fixed"), ("PumpedOut", "45"));
        nowhere.WrongBeside("Site").Should().Be("Say where the water was taken.");
        PlainBrowser.Page refused = await browser.SendAsync(Path, nowhere, "Act", "close", ("Outcome", "Fixed"), ("PumpedOut", "45"), ("Site", $"{ended.Id}"));
        refused.WrongBeside("Site").Should().Be("Its permission ended on 30 June 2026. Call the office: where did the water go?");
        refused.Field("PumpedOut").Should().Be("45");
        await browser.SendAsync(Path, refused, "Act", "close", ("Outcome", "Fixed"), ("PumpedOut", "45"), ("Site", $"{good.Id}"));

        (await app.PumpOutsAsync(_number)).Should().ContainSingle().Which.DisposalSiteId.Should().Be(good.Id);
    }

    [Fact]
    public async Task Parts_used_are_taken_from_where_they_were()
    {
        using PlainBrowser browser = await StartAsync();
        string name = $"Vacuum hose {_number}";
        await app.Get<SavePart>().HandleAsync(Viewers.Technician, new SavePart.Command { Name = name, ReorderAt = "3" }, default);
        int part = await app.ReadAsync(db => db.Parts.Where(row => row.Name == name).Select(row => row.Id).SingleAsync());
        await MoveAsync(part, MoveParts.What.BoughtForYard, "6");
        await MoveAsync(part, MoveParts.What.CarriedToTruck, "2");

        PlainBrowser.Page page = await browser.GoAsync(Path);
        page.Words.Should().Contain("2 in the truck, 4 in the yard.");
        PlainBrowser.Page wrong = await browser.SendAsync(Path, page, "Act", "close", ("Outcome", "Fixed"), ($"Part-{part}", "two"));
        wrong.WrongBeside($"Part-{part}").Should().Be("Write a whole number, such as 1.");
        await browser.SendAsync(Path, wrong, "Act", "close", ("Outcome", "Fixed"), ($"Part-{part}", "3"), ("PartsFrom", "Yard"));

        PartsView view = await app.Get<ReadParts>().HandleAsync(Viewers.Technician, default);
        view.Rows.Single(row => row.Id == part).Should().BeEquivalentTo(new { InTruck = 2, InYard = 1, IsShort = true, IsWrong = false });
        view.Moves[0].Should().BeEquivalentTo(new { Change = -3, Who = $"crew {_number}" });
        (await app.VisitsAsync(_number)).Single().Note.Should().Contain($"Used: 3 {name}");
        await MoveAsync(part, MoveParts.What.CountedInTruck, "5");
        (await app.Get<ReadParts>().HandleAsync(Viewers.Technician, default)).Rows.Single(row => row.Id == part).InTruck.Should().Be(5);
    }

    [Fact]
    public async Task What_is_typed_wrong_in_the_Office_gets_its_sentence()
    {
        Wrong(await app.Get<SavePart>().HandleAsync(Viewers.Technician, new SavePart.Command { ReorderAt = "-1" }, default)).Should().BeEquivalentTo("Name", "ReorderAt");
        Wrong(await app.Get<SaveDisposalSite>().HandleAsync(Viewers.Biologist, new SaveDisposalSite.Command { LastDay = "soon" }, default))
            .Should().BeEquivalentTo("Name", "Permission", "LastDay");
        (await app.Get<SaveDisposalSite>().HandleAsync(Viewers.Technician, new SaveDisposalSite.Command(), default)).Should().BeOfType<FormOutcome.NotAllowed>();
        (await app.Get<SavePart>().HandleAsync(Viewers.Supervisor, new SavePart.Command(), default)).Should().BeOfType<FormOutcome.NotAllowed>();
    }

    private static Dictionary<string, string>.KeyCollection Wrong(FormOutcome outcome) => outcome.Should().BeOfType<FormOutcome.Refused>().Subject.Wrong.Keys;

    private async Task<PlainBrowser> StartAsync()
    {
        await app.AddTankTicketAsync(_number, $"ST-{_number}");
        return (await app.AddBrowserAsync($"crew {_number}", FleetRoles.Technician)).Browser;
    }

    private async Task AddOtherAsync()
    {
        Ticket first = await app.TicketAsync(_number);
        await app.AddTicketAsync(_number + 1, first.StationId, first.AccessId, Rule.LowCharge, "", new LowChargeEvidence(0.34, 0.5));
    }

    private string Also(PlainBrowser.Page page) =>
        System.Text.RegularExpressions.Regex.Match(page.Html, $"name=\"Also\" value=\"({_number + 1} [0-9]+ [0-9]+)\"").Groups[1].Value;

    private async Task<DisposalSite> SiteAsync(string name, DateOnly? lastDay)
    {
        (await app.Get<SaveDisposalSite>().HandleAsync(
            Viewers.Biologist, new SaveDisposalSite.Command { Name = name, Permission = "State 12-345", LastDay = lastDay?.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture) ?? "" }, default))
            .Should().BeOfType<FormOutcome.Saved>();
        return await app.ReadAsync(db => db.DisposalSites.SingleAsync(site => site.Name == name));
    }

    private async Task MoveAsync(int part, MoveParts.What what, string number) =>
        (await app.Get<MoveParts>().HandleAsync(Viewers.Technician, new MoveParts.Command { Part = part, What = what.ToString(), Number = number }, default))
            .Should().BeOfType<FormOutcome.Saved>();
}
