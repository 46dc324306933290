using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Service;
using StationFleet.Web.Service.Alone;

namespace StationFleet.Web.Tests.Service;

/// <summary>A technician without script says when to be back. Now is Wednesday 8 July 2026, 07:05 in Boise.</summary>
public sealed class AloneTests : IAsyncLifetime, IDisposable
{
    private readonly FleetApp _app = new();
    private PlainBrowser _technician = null!;

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        await _app.Databases.AddAccessAsync();
        (_, _technician) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose()
    {
        _technician.Dispose();
        _app.Dispose();
    }

    [Fact]
    public async Task The_supervisor_is_told_once_an_hour_after_the_expected_time()
    {
        await _app.AddPersonAsync("boss@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        await _app.AddPersonAsync("biologist@juniper-basin.example", "correct horse battery", FleetRoles.Biologist);
        PlainBrowser.Page gone = await GoOutAsync("09:00", "Dam Road, then Otter Bend");
        PlainBrowser.Page page = await _technician.GoAsync("/work");

        int early = await LookAfterAsync(TimeSpan.FromMinutes(174)); // 09:59
        int late = await LookAfterAsync(TimeSpan.FromMinutes(1));
        int again = await LookAfterAsync(TimeSpan.FromHours(3));

        gone.Location.Should().EndWith("/work?done=out");
        page.Words.Should().Contain("Expected back today 09:00: Dam Road, then Otter Bend.")
            .And.Contain("60 minutes after that time the server writes to boss@juniper-basin.example")
            .And.Contain("This is no lone-worker safety system");
        (early, late, again).Should().Be((0, 1, 0));
        OutgoingMail mail = (await MailsAsync()).Should().ContainSingle().Subject;
        mail.To.Should().Be("boss@juniper-basin.example");
        mail.Subject.Should().Contain("field crew is not back");
        mail.Text.Should().Contain("field crew meant to be back Wednesday 09:00").And.Contain("Dam Road, then Otter Bend").And.Contain("no lone-worker safety system");
    }

    [Fact]
    public async Task Back_safe_calls_it_off()
    {
        await _app.AddPersonAsync("boss@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        await GoOutAsync("09:00");
        _app.Clock.Advance(TimeSpan.FromMinutes(150));

        PlainBrowser.Page back = await PressAsync("back", "", "");

        back.Location.Should().EndWith("/work?done=back");
        (await LookAfterAsync(TimeSpan.FromHours(5))).Should().Be(0);
        (await MailsAsync()).Should().BeEmpty();
        (await _technician.GoAsync("/work")).Words.Should().Contain("Working alone: say when you are back");
    }

    [Fact]
    public async Task Who_comes_back_after_somebody_was_told_ends_the_worry_with_a_second_mail()
    {
        await _app.AddPersonAsync("boss@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        await GoOutAsync("09:00");
        await LookAfterAsync(TimeSpan.FromMinutes(180));

        await PressAsync("back", "", "");

        List<OutgoingMail> mails = await MailsAsync();
        mails.Should().HaveCount(2);
        mails[1].Text.Should().Contain("field crew pressed “Back safe” Wednesday 10:05.");
        mails[1].ThreadId.Should().Be(mails[0].MessageId);
    }

    [Fact]
    public async Task A_later_time_is_waited_for_and_told_of_anew()
    {
        await _app.AddPersonAsync("boss@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        await GoOutAsync("09:00");
        await LookAfterAsync(TimeSpan.FromMinutes(180));
        await GoOutAsync("12:00");

        int waiting = await LookAfterAsync(TimeSpan.FromHours(2));
        int late = await LookAfterAsync(TimeSpan.FromHours(1));

        (waiting, late).Should().Be((0, 1));
        (await _app.ReadAsync(db => db.Outings.CountAsync())).Should().Be(1);
    }

    [Fact]
    public async Task A_form_that_the_phone_kept_counts_from_the_press_and_only_once()
    {
        await _app.AddPersonAsync("boss@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        PlainBrowser.Page page = await _technician.GoAsync("/work");
        _app.Clock.Advance(TimeSpan.FromHours(6)); // 13:05; it was pressed at 07:05
        (string, string)[] fields = [("Back", "09:00"), ("Where", ""), ("KeptSeconds", "21600")];

        await _technician.SendAsync("/work", page, "Act", "out", fields);
        int atOnce = await LookAfterAsync(TimeSpan.Zero);
        await _technician.SendAsync("/work", page, "Act", "out", fields);
        int late = await LookAfterAsync(TimeSpan.FromMinutes(2));

        (atOnce, late).Should().Be((0, 1), "the same phone may send “back safe” in the next moment");
        Outing outing = await _app.ReadAsync(db => db.Outings.SingleAsync());
        outing.Since.Should().Be(FleetApp.Start);
        outing.ExpectedBack.Should().Be(new DateTimeOffset(2026, 7, 8, 15, 0, 0, TimeSpan.Zero));
    }

    [Theory]
    [InlineData("", "Write a time, such as 06:30.")]
    [InlineData("06:00", "This time has passed, or lies more than 16 hours ahead. When will you be back?")]
    public async Task A_time_that_cannot_be_is_refused_beside_the_field(string time, string sentence)
    {
        PlainBrowser.Page answer = await GoOutAsync(time, "Dam Road");

        answer.Status.Should().Be(HttpStatusCode.OK);
        answer.WrongBeside("Back").Should().Be(sentence);
        answer.Html.Should().Contain("value=\"Dam Road\"");
        (await _app.ReadAsync(db => db.Outings.CountAsync())).Should().Be(0);
    }

    [Fact]
    public async Task Where_nobody_can_be_told_the_page_says_so_and_it_is_tried_until_somebody_can()
    {
        (await _technician.GoAsync("/work")).Words.Should().Contain("Nobody can be told: no supervisor has an e-mail address here.");
        await GoOutAsync("09:00");

        int nobody = await LookAfterAsync(TimeSpan.FromHours(4));
        await _app.AddPersonAsync("biologist@juniper-basin.example", "correct horse battery", FleetRoles.Biologist);
        int late = await LookAfterAsync(TimeSpan.Zero);

        (nobody, late).Should().Be((0, 1));
        (await MailsAsync()).Should().ContainSingle().Which.To.Should().Be("biologist@juniper-basin.example", "no supervisor can be told");
    }

    [Fact]
    public async Task On_the_way_and_arrived_stand_in_the_history_with_the_time_of_the_press()
    {
        await _app.AddTankTicketAsync(121);
        await _technician.SendAsync("/tickets/121", await _technician.GoAsync("/tickets/121"), "Act", "take");
        PlainBrowser.Page page = await _technician.GoAsync("/tickets/121");
        _app.Clock.Advance(TimeSpan.FromHours(1));

        PlainBrowser.Page way = await _technician.SendAsync("/tickets/121", page, "Act", "way", ("KeptSeconds", "1800"));
        await _technician.SendAsync("/tickets/121", await _technician.GoAsync("/tickets/121"), "Act", "arrive");

        way.Location.Should().EndWith("/tickets/121?done=way");
        (await _technician.GoAsync("/tickets/121")).Words.Should().Contain("field crew is on the way").And.Contain("field crew arrived");
        List<TicketEvent> events = await _app.EventsAsync(121);
        events[^2].At.Should().Be(FleetApp.Start.AddMinutes(30));
    }

    private Task<PlainBrowser.Page> GoOutAsync(string back, string where = "") => PressAsync("out", back, where);

    private async Task<PlainBrowser.Page> PressAsync(string act, string back, string where) =>
        await _technician.SendAsync("/work", await _technician.GoAsync("/work"), "Act", act, ("Back", back), ("Where", where));

    private Task<int> LookAfterAsync(TimeSpan time)
    {
        _app.Clock.Advance(time);
        return _app.Get<TellLate>().HandleAsync(CancellationToken.None);
    }

    private Task<List<OutgoingMail>> MailsAsync() => _app.ReadAsync(db => db.OutgoingMails.AsNoTracking().OrderBy(mail => mail.Id).ToListAsync());
}
