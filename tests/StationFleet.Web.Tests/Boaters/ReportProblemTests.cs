using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Boaters;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Web.Boaters;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Office;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Boaters;

/// <summary>A stranger without script sends the form; every test has a server of its own, since all come from one network address.</summary>
public sealed class ReportProblemTests : IAsyncLifetime, IDisposable
{
    private const string Slug = "dam-road";

    private readonly FleetApp _app = new();
    private PlainBrowser _stranger = null!;
    private Station _station = null!;

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        await _app.AddPersonAsync("first@juniper-basin.example", "correct horse battery", Storage.Accounts.FleetRoles.Administrator);
        _station = await _app.AddStationAsync("COP-1", await _app.AddAccessAsync(Slug));
        await _app.Databases.AddToolAsync(_station, "grabber", ToolKind.Grabber);
        await _app.Databases.AddToolAsync(_station);
        _stranger = new PlainBrowser(_app.Address, new Cookie("theme", "light"));
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose()
    {
        _stranger.Dispose();
        _app.Dispose();
    }

    [Fact]
    public async Task A_report_waits_for_a_person_and_raises_no_ticket_by_itself()
    {
        PlainBrowser.Page sent = await SendAsync("COP-1/grabber", "Missing", "Only the hook is left.");

        sent.Location.Should().EndWith($"/a/{Slug}?done=true");
        PublicReport report = await _app.ReadAsync(db => db.PublicReports.AsNoTracking().SingleAsync());
        report.Should().BeEquivalentTo(new { Part = "grabber", Trouble = Trouble.Missing, Words = "Only the hook is left.", State = PublicReportState.Waiting });
        (await _app.ReadAsync(db => db.Tickets.CountAsync())).Should().Be(0);
        (await _stranger.GoAsync($"/a/{Slug}?done=true")).Words.Should().Contain("Thank you.");
    }

    [Fact]
    public async Task Today_tells_that_a_report_waits()
    {
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("Desk", Storage.Accounts.FleetRoles.Biologist);
        using PlainBrowser biologist = browser;
        PlainBrowser.Page before = await biologist.GoAsync("/");

        await SendAsync("COP-1/grabber", "Missing", "");

        before.Words.Should().NotContain("of a boater");
        (await biologist.GoAsync("/")).Words.Should().Contain("One report of a boater waits: a person decides what becomes of it .");
    }

    [Fact]
    public async Task It_becomes_a_note_on_the_ticket_that_is_open_on_that_tool()
    {
        await _app.AddTicketAsync(31, _station.Id, null, Rule.IdleTool, "grabber", new IdleToolEvidence("grabber", null, FleetApp.Start, 40, 900, null));

        await SendAsync("COP-1/grabber", "Missing", "Gone since Sunday");
        await SendAsync("COP-1/vacuum", "DoesNotWork", "");

        TicketEvent note = (await _app.EventsAsync(31))[^1];
        note.Should().BeEquivalentTo(new { Kind = TicketEventKind.Noted, Who = "reported by the public", Note = "grabber: it is missing. “Gone since Sunday”" });
        (await _app.ReadAsync(db => db.PublicReports.OrderBy(report => report.Id).Select(report => report.State).ToListAsync()))
            .Should().Equal(PublicReportState.Noted, PublicReportState.Waiting);
    }

    [Fact]
    public async Task A_person_makes_a_ticket_of_it_once_and_the_next_report_is_a_note_there()
    {
        await SendAsync("COP-1/vacuum", "Leaks", "");
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("Field Crew", Storage.Accounts.FleetRoles.Technician);
        using PlainBrowser technician = browser;
        PlainBrowser.Page list = await technician.GoAsync("/tickets");
        int id = await _app.ReadAsync(db => db.PublicReports.Select(report => report.Id).SingleAsync());
        DecidePublicReport decide = _app.Get<DecidePublicReport>();

        DecidePublicReport.Outcome first = await decide.HandleAsync(Viewers.Technician, id, confirm: true, CancellationToken.None);
        DecidePublicReport.Outcome second = await decide.HandleAsync(Viewers.Technician, id, confirm: true, CancellationToken.None);
        await SendAsync("COP-1/vacuum", "Leaks", "Still.");

        list.Words.Should().Contain("One report from the public waits to be looked at.").And.Contain("vacuum: it leaks.");
        int number = first.Should().BeOfType<DecidePublicReport.Outcome.Decided>().Which.Number!.Value;
        second.Should().BeOfType<DecidePublicReport.Outcome.AlreadyDecided>();
        PlainBrowser.Page ticket = await technician.GoAsync($"/tickets/{number}");
        ticket.Words.Should().Contain("Look at the vacuum: a boater reported it").And.Contain("Reported by the public").And.Contain("vacuum: it leaks. “Still.”");
        (await _app.ReadAsync(db => db.Tickets.CountAsync())).Should().Be(1);
    }

    [Fact]
    public async Task Who_only_reads_may_not_decide_and_another_agency_does_not_see_it()
    {
        await SendAsync("COP-1/vacuum", "Leaks", "");
        int id = await _app.ReadAsync(db => db.PublicReports.Select(report => report.Id).SingleAsync());
        Web.Accounts.Viewer foreign = Viewers.Administrator with { Agency = (await _app.AgencyAsync("Another District")).Id };

        (await _app.Get<DecidePublicReport>().HandleAsync(Viewers.Supervisor, id, confirm: true, CancellationToken.None)).Should().BeOfType<DecidePublicReport.Outcome.NotAllowed>();
        (await _app.Get<DecidePublicReport>().HandleAsync(foreign, id, confirm: false, CancellationToken.None)).Should().BeOfType<DecidePublicReport.Outcome.NotAllowed>();
        (await _app.Get<ListTickets>().HandleAsync(foreign, null, CancellationToken.None)).Reported.Should().BeEmpty();
    }

    [Fact]
    public async Task What_is_put_aside_stays_in_the_database_and_leaves_the_list()
    {
        await SendAsync("COP-1/", "Other", "There is a duck in it");
        int id = await _app.ReadAsync(db => db.PublicReports.Select(report => report.Id).SingleAsync());

        await _app.Get<DecidePublicReport>().HandleAsync(Viewers.Biologist, id, confirm: false, CancellationToken.None);

        (await _app.Get<ListTickets>().HandleAsync(Viewers.Biologist, null, CancellationToken.None)).Reported.Should().BeEmpty();
        (await _app.ReadAsync(db => db.PublicReports.SingleAsync())).State.Should().Be(PublicReportState.Dismissed);
    }

    [Fact]
    public async Task What_a_stranger_writes_is_shown_as_text_never_as_markup()
    {
        await SendAsync("COP-1/vacuum", "Broken", "<script>alert(1)</script> & <b>bold</b>");
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("Field Crew", Storage.Accounts.FleetRoles.Technician);
        using PlainBrowser technician = browser;

        string html = (await technician.GoAsync("/tickets")).Html;

        html.Should().Contain("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &lt;b&gt;").And.NotContain("<script>alert(1)").And.NotContain("<b>bold");
    }

    [Fact]
    public async Task A_wrong_form_is_answered_beside_the_field_and_keeps_what_was_typed()
    {
        PlainBrowser.Page empty = await SendAsync("", "", "my words");
        PlainBrowser.Page other = await SendAsync("COP-1/vacuum", "Other", " ");
        PlainBrowser.Page longer = await SendAsync("COP-1/vacuum", "Broken", new string('x', 501));
        PlainBrowser.Page foreign = await SendAsync("SOR-1/vacuum", "99", "");

        empty.WrongBeside("About").Should().Be("Choose what it is about.");
        empty.WrongBeside("Trouble").Should().Be("Choose what is wrong.");
        empty.TextArea("Words").Should().Be("my words");
        other.WrongBeside("Words").Should().Be("Say in a few words what it is.");
        other.IsChecked("Trouble", "Other").Should().BeTrue();
        longer.WrongBeside("Words").Should().Be("Shorten it to 500 characters.");
        foreign.WrongBeside("About").Should().NotBeNull();
        foreign.WrongBeside("Trouble").Should().NotBeNull();
        (await CountAsync()).Should().Be(0);
    }

    [Fact]
    public async Task The_same_form_sent_twice_is_one_report()
    {
        PlainBrowser.Page page = await _stranger.GoAsync($"/a/{Slug}");
        (string, string)[] typed = [("About", "COP-1/vacuum"), ("Trouble", "Broken"), ("Words", ""), ("Website", "")];

        await _stranger.SendAsync($"/a/{Slug}", page, "Send", "", typed);
        await _stranger.SendAsync($"/a/{Slug}", page, "Send", "", typed);

        (await CountAsync()).Should().Be(1);
    }

    [Fact]
    public async Task A_machine_that_fills_the_hidden_field_is_thanked_and_nothing_is_kept()
    {
        PlainBrowser.Page sent = await SendAsync("COP-1/vacuum", "Broken", "buy pills", trap: "https://pills.example");

        sent.Location.Should().EndWith("?done=true");
        (await CountAsync()).Should().Be(0);
    }

    [Fact]
    public async Task A_form_that_another_site_made_a_browser_send_is_refused()
    {
        using HttpResponseMessage answer = await _app.Http.PostAsync($"/a/{Slug}", new FormUrlEncodedContent(new Dictionary<string, string>
        {
            ["_handler"] = "report", ["Key"] = FormKey.New(), ["About"] = "COP-1/vacuum", ["Trouble"] = "Broken",
        }));

        answer.StatusCode.Should().Be(HttpStatusCode.BadRequest);
        (await CountAsync()).Should().Be(0);
    }

    [Fact]
    public async Task The_sixth_report_of_an_hour_from_one_address_is_told_to_wait_and_keeps_its_words()
    {
        for (int n = 0; n < 5; n++)
        {
            (await SendAsync("COP-1/vacuum", "Broken", $"number {n}")).Status.Should().Be(HttpStatusCode.Redirect);
        }

        PlainBrowser.Page sixth = await SendAsync("COP-1/vacuum", "Broken", "number 5");

        sixth.Status.Should().Be(HttpStatusCode.TooManyRequests);
        sixth.Words.Should().Contain("Please try again later");
        sixth.TextArea("Words").Should().Be("number 5");
        (await CountAsync()).Should().Be(5);
    }

    [Fact]
    public void An_access_takes_only_so_many_from_all_addresses_together_and_IPv6_neighbours_count_as_one()
    {
        using PublicReportLimiter limiter = new(Microsoft.Extensions.Options.Options.Create(new PublicPageOptions { ReportsPerAddress = 1, ReportsPerAccess = 3 }));
        bool Take(string address, int access) => limiter.MayReport(IPAddress.Parse(address), new AccessId(access));

        Take("2001:db8::1", 1).Should().BeTrue();
        Take("2001:db8::2", 2).Should().BeFalse("the same household");
        Take("192.0.2.1", 1).Should().BeTrue();
        Take("::ffff:192.0.2.1", 1).Should().BeFalse("the same address in another dress");
        Take("192.0.2.2", 1).Should().BeTrue();
        Take("192.0.2.3", 1).Should().BeFalse("the access has had its three");
        Take("192.0.2.4", 2).Should().BeTrue("another access has not");
    }

    private async Task<PlainBrowser.Page> SendAsync(string about, string trouble, string words, string trap = "") => await _stranger.SendAsync(
        $"/a/{Slug}", await _stranger.GoAsync($"/a/{Slug}"), "Send", "", ("About", about), ("Trouble", trouble), ("Words", words), ("Website", trap));

    private Task<int> CountAsync() => _app.ReadAsync(db => db.PublicReports.CountAsync());
}
