using System.Net;
using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Watch;
using StationFleet.Web.Mail;
using StationFleet.Web.Platform;
using StationFleet.Web.Platform.Demo;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Tests.Service;

/// <summary>
/// The whole way of one problem: a simulated wrench goes missing, the station's reports come in by HTTP, the watch raises one ticket, mails
/// go to a real mail server, a technician takes it, visits, and closes it by the phone's pages, and the ledger tells all of it.
/// </summary>
public sealed class MissingWrenchTests : IAsyncLifetime
{
    private const string Station = "COP-1";
    private const string Technician = "technician@juniper-basin.example";
    private const string Biologist = "biologist@juniper-basin.example";

    // The demo's wrench at COP-1 goes missing at the second instant.
    private static readonly DateTimeOffset First = new(2026, 6, 24, 6, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset Missing = new(2026, 7, 5, 16, 0, 0, TimeSpan.Zero);
    private static readonly TimeSpan Step = TimeSpan.FromHours(1); // a key may send 600 reports at once

    private readonly TestSmtpServer _smtp = TestSmtpServer.Start();
    private readonly FleetApp _app;
    private FleetSimulator _simulator = new(new DemoFleetFile().Fleet);
    private DemoFile _demo = null!;

    public MissingWrenchTests() => _app = FleetApp.StartingAt(
        First, ("Mail:Host", "127.0.0.1"), ("Mail:Port", FormattableString.Invariant($"{_smtp.Port}")), ("Mail:Security", "None"),
        ("Mail:From", "fleet@juniper-basin.example"));

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        _demo = await new LoadDemoFleet(
            _app.Databases, _app.Get<IServiceScopeFactory>(), _app.Get<StationKeys>(), _app.Get<FleetPaths>(), new DemoFleetFile())
            .HandleAsync(CancellationToken.None);
        await _app.Databases.WriteAsync(
            async db => db.AddRange((await db.Stations.ToListAsync()).Select(station => WatchPosition.StartingAt(station.Id, First))),
            CancellationToken.None);
    }

    public async Task DisposeAsync()
    {
        await ((IAsyncLifetime)_app).DisposeAsync();
        await _smtp.DisposeAsync();
    }

    [Fact]
    public async Task From_a_missing_wrench_to_a_closed_ticket_there_is_one_thread_and_every_event_is_told()
    {
        Ticket raised = await UntilItIsRaisedAsync();
        string path = $"/tickets/{raised.Number}";
        ArrivedMail[] first = await UntilMailsAsync(raised, 1);
        ArrivedMail[] both = await UntilMailsAsync(raised, 2);
        using PlainBrowser phone = await _app.BrowserOfAsync(Technician);
        PlainBrowser.Page taken = await phone.SendAsync(path, await phone.GoAsync(path), "Act", "take");
        await ReportUntilAsync(_app.Clock.GetUtcNow().AddHours(1));
        PlainBrowser.Page closed = await phone.SendAsync(
            path, await phone.GoAsync(path), "Act", "close", ("Minutes", "25"), ("Found", "Wrench gone; a new one is on its chain."), ("Outcome", "Fixed"));
        Mend(_app.Clock.GetUtcNow());
        await ReportUntilAsync(_app.Clock.GetUtcNow().AddDays(2));

        first.Should().ContainSingle().Which.To.Should().Be(Technician, "the person on duty is told, alone");
        first[0].Message.Subject.Should().Contain("COP-1").And.Contain("wrench");
        first[0].Message.TextBody.Should().MatchRegex(@"The drain-plug wrench has been passed over by \d+ use sessions since Sunday");
        both[1].To.Should().Be(Biologist, "nobody took it for four working hours");
        both[1].Message.References.Should().Equal(first[0].Message.MessageId);
        taken.Location.Should().EndWith($"{path}?done=take");
        closed.Location.Should().EndWith($"{path}?done=close");
        MailsOf(raised).Should().HaveCount(2, "it was taken and closed: nobody is told again");
        (await _app.TicketAsync(raised.Number)).Should().BeEquivalentTo(new { State = TicketState.Closed, Outcome = TicketOutcome.Fixed });
        (await _app.EventsAsync(raised.Number)).Where(happening => happening.Kind != TicketEventKind.ProblemCleared)
            .Select(happening => (happening.Kind, happening.Who)).Should().Equal(
                (TicketEventKind.Raised, null), (TicketEventKind.Taken, "Field crew"), (TicketEventKind.Closed, "Field crew"));
        (await _app.ReadAsync(db => db.TicketCalls.CountAsync(call => call.TicketId == raised.Id))).Should().Be(2);
        (await _app.VisitsAsync(raised.Number)).Should().ContainSingle().Which.Minutes.Should().Be(25);
        (await _app.ReadAsync(db => db.Tickets.CountAsync(ticket => ticket.Rule == Rule.IdleTool))).Should().Be(1, "the new wrench is used");
        PlainBrowser.Page page = await phone.GoAsync(path);
        page.Words.Should().Contain("Field crew took it").And.Contain("a new one is on its chain");
    }

    private async Task<Ticket> UntilItIsRaisedAsync()
    {
        while (true)
        {
            await ReportUntilAsync(_app.Clock.GetUtcNow() + Step);
            Ticket? ticket = await _app.ReadAsync(db => db.Tickets.AsNoTracking().FirstOrDefaultAsync(row => row.Rule == Rule.IdleTool));
            if (ticket is not null)
            {
                ticket.Part.Should().Be("wrench");
                return ticket;
            }

            _app.Clock.GetUtcNow().Should().BeBefore(Missing.AddDays(4), "the watch misses the wrench by then");
        }
    }

    private async Task<ArrivedMail[]> UntilMailsAsync(Ticket ticket, int count)
    {
        DateTimeOffset latest = _app.Clock.GetUtcNow().AddDays(2);
        while (MailsOf(ticket).Length < count && _app.Clock.GetUtcNow() < latest)
        {
            await ReportUntilAsync(_app.Clock.GetUtcNow() + Step);
        }

        return MailsOf(ticket);
    }

    // Mails of the ticket: those that name it.
    private ArrivedMail[] MailsOf(Ticket ticket) =>
        [.. _smtp.Arrived.Where(mail => mail.Raw.Contains($"T-{ticket.Number}", StringComparison.Ordinal))];

    private void Mend(DateTimeOffset at) => _simulator = new FleetSimulator(
        new DemoFleetFile().Fleet, new SimulationOptions(Visits: [new PlannedVisit(Station, at, ReplaceTool: "wrench")]));

    // What happens by itself: the station reports, the watch looks, people are called, mails go out.
    private async Task ReportUntilAsync(DateTimeOffset end)
    {
        StationSimulator station = _simulator.Stations.Single(one => one.Code == Station);
        for (DateTimeOffset from = _app.Clock.GetUtcNow(); from < end; from += Step)
        {
            DateTimeOffset now = from + Step;
            _app.Clock.SetUtcNow(now);
            Measurement[] measured = [.. station.ReceivedBetween(from, now).SelectMany(report => report.Measurements)];
            if (measured.Length > 0)
            {
                await PostAsync(measured);
            }

            await _app.Get<RunWatch>().HandleAsync(CancellationToken.None);
            await _app.Get<SendMail>().HandleAsync(CancellationToken.None);
        }
    }

    private async Task PostAsync(IReadOnlyList<Measurement> measurements)
    {
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports");
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", _demo.Keys[Station]);
        request.Content = new ByteArrayContent(SenmlWriter.Write(Station, measurements));
        request.Content.Headers.ContentType = new MediaTypeHeaderValue(SenmlWriter.MediaType);
        using HttpResponseMessage answer = await _app.Http.SendAsync(request);
        answer.StatusCode.Should().Be(HttpStatusCode.OK, "{0}", await answer.Content.ReadAsStringAsync());
    }
}
