using System.Net;
using Microsoft.EntityFrameworkCore;
using MimeKit;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;
using StationFleet.Storage.Watch;
using StationFleet.Web.Mail;
using StationFleet.Web.Mail.Digests;
using StationFleet.Web.Platform;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Mail.Digests;

/// <summary>The mails by the calendar, on a whole server. The fleet’s zone is UTC; it is Wednesday 8 July 2026, 06:00.</summary>
public sealed class DigestTests : IAsyncLifetime
{
    private readonly FleetApp _app = FleetApp.StartingAt(new DateTimeOffset(2026, 7, 8, 6, 0, 0, TimeSpan.Zero));

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        await _app.AddTankTicketAsync(1);
        await _app.AddPersonAsync("technician@juniper-basin.example", "correct horse battery", FleetRoles.Technician);
        await _app.AddPersonAsync("supervisor@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        await _app.AddPersonAsync("administrator@juniper-basin.example", "correct horse battery", FleetRoles.Administrator);
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    [Fact]
    public async Task The_morning_mail_is_the_page_Today_in_about_ten_lines_and_comes_once()
    {
        (await SendAsync()).Should().Be(0, "it is six, and the mail goes at half past");
        _app.Clock.Advance(TimeSpan.FromMinutes(30));

        (await SendAsync(), await SendAsync()).Should().Be((1, 0));

        OutgoingMail mail = (await MailsAsync()).Single();
        mail.To.Should().Be("technician@juniper-basin.example");
        mail.Subject.Should().Be("Wednesday 8 July: one ticket");
        string page = await TodayAsync();
        string[] lines = mail.Text.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        lines.Should().HaveCountLessThanOrEqualTo(12);
        page.Should().Contain(lines[1], "the mail's first sentence is the page's");
        mail.Text.Should().Contain("- COP-1: The tank holds 46 of 55 gal (84 %)").And.Contain("T-1, new.").And.Contain("/mail/unsubscribe/");
    }

    [Fact]
    public async Task A_stop_is_made_up_for_in_the_morning_but_not_at_night()
    {
        _app.Clock.Advance(TimeSpan.FromHours(6));
        (await SendAsync()).Should().Be(1, "it is noon");

        _app.Clock.Advance(TimeSpan.FromHours(32));
        (await SendAsync()).Should().Be(0, "it is eight in the evening of the next day");
    }

    [Fact]
    public async Task On_Mondays_the_supervisor_gets_what_the_week_brought_and_what_is_due()
    {
        _app.Clock.Advance(TimeSpan.FromDays(5) + TimeSpan.FromHours(1)); // Monday 13 July
        Ticket ticket = await _app.TicketAsync(1);
        await using (var db = await _app.Databases.CreateDbContextAsync())
        {
            await db.Tickets.ExecuteUpdateAsync(set => set.SetProperty(row => row.SnoozedUntil, new DateTimeOffset(2026, 7, 15, 0, 0, 0, TimeSpan.Zero)));
        }

        await _app.Databases.AddAsync(new Storage.Fleet.KnownDays { Name = "Fishing derby", FirstDay = new DateOnly(2026, 7, 18), LastDay = new DateOnly(2026, 7, 19), Factor = 2 });
        await _app.Databases.AddAsync(new PumpOut { StationId = ticket.StationId, At = FleetApp.Start.AddDays(1), Litres = 378.5, Source = PumpOutSource.Telemetry });

        await _app.Databases.AddAsync(new SamplePlan
        {
            StationId = ticket.StationId, From = new DateOnly(2026, 7, 10), Due = new DateOnly(2026, 7, 16), Grabs = 3, PlannedAt = FleetApp.Start, PlannedBy = "District biologist",
        });
        StationAhead ahead = new(_app.Clock.GetUtcNow(), 0.84, new ForecastWindow(At(14, 12), At(15, 12), At(15, 18), At(17, 12)), true, null);
        await _app.Databases.AddAsync(new WatchPosition
        {
            StationId = ticket.StationId, State = "{}", EvaluatedTo = _app.Clock.GetUtcNow(), Ahead = WatchJson.Write(ahead),
        });

        await SendAsync();

        OutgoingMail mail = (await MailsAsync()).Single(row => row.To.StartsWith("supervisor", StringComparison.Ordinal));
        mail.Subject.Should().StartWith("The week of Monday 13 July");
        mail.Text.Should().Contain("One ticket was raised in the last seven days, none were closed.")
            .And.Contain("Pumped out: 100 gal.")
            .And.Contain("- Wed 15 Jul: T-1 at COP-1 is no longer snoozed.")
            .And.Contain("- Wed 15 Jul: COP-1: tank full, Tue to Fri.")
            .And.Contain("- Thu 16 Jul: COP-1: sample due.")
            .And.Contain("- Sat 18 Jul: Fishing derby: 2 times the usual boats, until Sun 19 Jul.");
    }

    private static DateTimeOffset At(int day, int hour) => new(2026, 7, day, hour, 0, 0, TimeSpan.Zero);

    [Theory]
    [InlineData("2026-03-08T08:29:00Z", 0)]   // 01:29; the clocks go from 02:00 to 03:00
    [InlineData("2026-03-08T09:00:00Z", 1)]   // 03:00: half past two is skipped
    [Source("IANA time zone database: America/Boise, 8 March 2026")]
    public async Task A_time_that_the_clocks_skip_comes_when_they_have(string now, int mails)
    {
        FleetApp app = FleetApp.StartingAt(DateTimeOffset.Parse(now, System.Globalization.CultureInfo.InvariantCulture));
        await app.InitializeAsync();
        app.Get<Microsoft.Extensions.Options.IOptions<FleetOptions>>().Value.TimeZone = "America/Boise";
        app.Get<Microsoft.Extensions.Options.IOptions<DigestOptions>>().Value.MorningAt = new TimeOnly(2, 30);
        await app.Databases.AddStationAsync("COP-1");
        await app.AddPersonAsync("technician@juniper-basin.example", "correct horse battery", FleetRoles.Technician);

        (await app.Get<SendDigests>().HandleAsync(CancellationToken.None)).Should().Be(mails);
        await ((IAsyncLifetime)app).DisposeAsync();
    }

    [Fact]
    [Source("RFC 8058 §3.1 and §3.2: HTTPS address, both headers, a POST without cookies; a GET ends nothing")]
    public async Task One_click_ends_the_morning_mail_and_opening_the_link_does_not()
    {
        _app.Get<Microsoft.Extensions.Options.IOptions<FleetOptions>>().Value.PublicUrl = "https://fleet.example/";
        _app.Clock.Advance(TimeSpan.FromMinutes(30));
        await SendAsync();
        OutgoingMail mail = (await MailsAsync()).Single();
        MimeMessage message = ((MailComposer.Outcome.Composed)_app.Get<MailComposer>().Compose(mail)).Message;
        message.Headers["List-Unsubscribe"].Should().Be($"<{mail.UnsubscribeUrl}>").And.StartWith("<https://fleet.example/mail/unsubscribe/");
        message.Headers["List-Unsubscribe-Post"].Should().Be("List-Unsubscribe=One-Click");
        string path = new Uri(mail.UnsubscribeUrl!).AbsolutePath;

        HttpResponseMessage opened = await _app.Http.GetAsync(path);
        opened.StatusCode.Should().Be(HttpStatusCode.Redirect);
        (await _app.Http.GetStringAsync(opened.Headers.Location)).Should().Contain("End the morning mail?");
        (await ChoicesAsync()).Should().BeEmpty();
        HttpResponseMessage forged = await PostAsync(path[..^4] + "AAAA");
        HttpResponseMessage posted = await PostAsync(path);

        forged.StatusCode.Should().Be(HttpStatusCode.NotFound);
        posted.StatusCode.Should().Be(HttpStatusCode.OK);
        (await ChoicesAsync()).Should().ContainSingle().Which.Morning.Should().BeFalse();
        (await MailsAsync()).Single().LastReply.Should().Be("Not sent: its recipient ended these mails.");
        _app.Clock.Advance(TimeSpan.FromDays(1));
        (await SendAsync()).Should().Be(0);
    }

    private Task<int> SendAsync() => _app.Get<SendDigests>().HandleAsync(CancellationToken.None);

    private Task<HttpResponseMessage> PostAsync(string path) => _app.Http.PostAsync(
        path, new FormUrlEncodedContent([KeyValuePair.Create("List-Unsubscribe", "One-Click")]));

    private Task<List<OutgoingMail>> MailsAsync() => _app.ReadAsync(db => db.OutgoingMails.AsNoTracking().OrderBy(mail => mail.Id).ToListAsync());

    private Task<List<MailChoices>> ChoicesAsync() => _app.ReadAsync(db => db.MailChoices.AsNoTracking().ToListAsync());

    private async Task<string> TodayAsync()
    {
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("Today Reader", FleetRoles.Supervisor);
        using PlainBrowser closing = browser;
        return (await browser.GoAsync("/")).Words;
    }
}
