using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Watch;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Tests.Watch;

public sealed class RunWatchTests : IAsyncLifetime
{
    private readonly WatchScene _scene = new();

    public Task InitializeAsync() => _scene.InitializeAsync();

    public Task DisposeAsync() => _scene.DisposeAsync();

    [Fact]
    public async Task A_full_tank_becomes_one_ticket_with_one_mail_to_the_technician_alone()
    {
        await _scene.SayAsync("tank/fill", 0.85, 0.85, 0.85, 0.87, 0.87, 0.87, 0.87);

        Ticket ticket = (await _scene.RowsAsync<Ticket>()).Should().ContainSingle().Subject;
        ticket.Should().BeEquivalentTo(new
        {
            Number = 1,
            Rule = Rule.TankFilling,
            Part = "",
            State = TicketState.New,
            AccessId = _scene.Access.Id,
            Raised = WatchScene.Start.AddMinutes(45),
            TimesReopened = 0,
            Version = 0,
        });
        WatchJson.Read<Evidence>(ticket.Evidence).Should().Be(new TankFillingEvidence(0.87, 200, null), "an open ticket shows the newest numbers");
        (await _scene.RowsAsync<TicketEvent>()).Should().ContainSingle().Which.Kind.Should().Be(TicketEventKind.Raised);
        (await _scene.RowsAsync<ProblemRow>()).Should().ContainSingle().Which.Urgency.Should().Be(Urgency.NeedsVisit);

        List<OutgoingMail> mails = await _scene.RowsAsync<OutgoingMail>();
        mails.Select(mail => mail.To).Should().Equal("technician@juniper-basin.example");
        mails.Should().OnlyContain(mail => mail.State == MailState.Waiting && mail.ThreadId == null && mail.TicketId == ticket.Id
            && mail.Subject == "COP-1: Pump out the tank (T-1)" && mail.Text.Contains("https://fleet.example/tickets/1"));
        mails.Should().OnlyContain(mail => mail.MessageId.StartsWith("ticket-1.raised.") && mail.MessageId.EndsWith("@fleet.example"));
    }

    [Fact]
    public async Task A_second_run_at_the_same_instant_leaves_the_problems_that_are_on()
    {
        await _scene.SayAsync("tank/fill", 0.85, 0.85, 0.85);

        await _scene.RunAsync();
        await _scene.RunAsync();

        (await _scene.RowsAsync<ProblemRow>()).Should().ContainSingle().Which.Rule.Should().Be(Rule.TankFilling);
    }

    [Fact]
    public async Task Only_people_who_may_see_the_station_are_told()
    {
        Agency other = await _scene.File.AddAgencyAsync("Another district");
        await _scene.AddPersonAsync("stranger", FleetRoles.Technician, other.Id);
        await _scene.AddPersonAsync("neighbour", FleetRoles.Technician, _scene.Station.OwnerId);

        await _scene.SayAsync("tank/fill", 0.85, 0.85, 0.85);

        (await _scene.RowsAsync<OutgoingMail>()).Select(mail => mail.To).Should()
            .Contain("neighbour@juniper-basin.example").And.NotContain("stranger@juniper-basin.example");
    }

    [Fact]
    public async Task Nothing_is_written_when_a_part_of_it_fails_and_the_other_stations_are_watched_all_the_same()
    {
        Station other = await _scene.AddStationAsync("SOR-1");
        _scene.File.Scalar("CREATE TRIGGER broken BEFORE INSERT ON ticket_events BEGIN SELECT RAISE(ABORT, 'broken'); END");
        await ReportFullAsync();
        await _scene.ReportAsync(other, _scene.Now, ("tank/fill", 0.2));

        RunWatch.Outcome failed = await _scene.RunAsync();

        failed.Should().Be(new RunWatch.Outcome(Stations: 2, Failed: 1, Raised: 0));
        (await _scene.RowsAsync<Ticket>()).Should().BeEmpty();
        (await _scene.RowsAsync<TicketEvent>()).Should().BeEmpty();
        (await _scene.RowsAsync<ProblemRow>()).Should().BeEmpty();
        (await _scene.RowsAsync<WatchPosition>()).Should().ContainSingle().Which.StationId.Should().Be(other.Id);

        _scene.File.Scalar("DROP TRIGGER broken");
        (await _scene.RunAsync()).Should().Be(new RunWatch.Outcome(Stations: 2, Failed: 0, Raised: 1));
        (await _scene.RowsAsync<Ticket>()).Should().ContainSingle().Which.Raised.Should().Be(WatchScene.Start.AddMinutes(10));
        (await _scene.RowsAsync<OutgoingMail>()).Should().ContainSingle();
    }

    [Fact]
    public async Task A_ticket_whose_mail_cannot_be_written_stays_and_is_told_of_later()
    {
        _scene.File.Scalar("CREATE TRIGGER broken BEFORE INSERT ON outgoing_mails BEGIN SELECT RAISE(ABORT, 'broken'); END");
        await ReportFullAsync();

        Func<Task> watching = _scene.RunAsync;

        await watching.Should().ThrowAsync<Microsoft.EntityFrameworkCore.DbUpdateException>();
        (await _scene.RowsAsync<Ticket>()).Should().ContainSingle();
        (await _scene.RowsAsync<TicketCall>()).Should().BeEmpty();

        _scene.File.Scalar("DROP TRIGGER broken");
        await _scene.RunAsync();
        await _scene.RunAsync();
        (await _scene.RowsAsync<OutgoingMail>()).Should().ContainSingle();
        (await _scene.RowsAsync<TicketCall>()).Should().ContainSingle();
    }

    [Fact]
    public async Task A_ticket_closed_while_its_problem_stays_on_is_reopened_after_a_day_and_told_in_the_same_thread()
    {
        await _scene.SayAsync("tank/fill", 0.85, 0.85, 0.85);
        await CloseAsync(TicketOutcome.NothingWrong);
        _scene.File.Scalar($"UPDATE tickets SET snoozed_until = {WatchScene.Start.AddDays(9).ToUnixTimeMilliseconds()}");

        await _scene.SayAsync("tank/fill", [.. Enumerable.Repeat(0.86, 95)]);
        (await _scene.RowsAsync<Ticket>()).Should().ContainSingle().Which.State.Should().Be(TicketState.Closed);

        await _scene.SayAsync("tank/fill", 0.86, 0.86);
        Ticket ticket = (await _scene.RowsAsync<Ticket>()).Should().ContainSingle().Subject;
        ticket.Should().BeEquivalentTo(new { State = TicketState.New, TimesReopened = 1, Version = 2, SnoozedUntil = (DateTimeOffset?)null, Closed = (DateTimeOffset?)null, Outcome = (TicketOutcome?)null });
        List<OutgoingMail> mails = [.. (await _scene.RowsAsync<OutgoingMail>()).Where(mail => mail.To.StartsWith("technician", StringComparison.Ordinal))];
        mails.Should().HaveCount(2);
        mails[1].Subject.Should().Be("Re: COP-1: Pump out the tank (T-1)", "the subject of a thread stays");
        mails[1].Text.Should().Contain("The problem was still there a day after the ticket was closed.");
        mails[1].ThreadId.Should().Be(mails[0].MessageId);
    }

    [Fact]
    public async Task A_ticket_closed_after_a_pump_out_is_followed_by_a_new_one_when_the_tank_fills_again()
    {
        await _scene.SayAsync("tank/fill", 0.85, 0.85, 0.85, 0.85, 0.85, 0.02, 0.02, 0.02);
        (await _scene.RowsAsync<Ticket>()).Single().ProblemCleared.Should().NotBeNull();
        await CloseAsync(TicketOutcome.Fixed);

        await _scene.SayAsync("tank/fill", 0.82, 0.82, 0.82, 0.82, 0.82);

        (await _scene.RowsAsync<Ticket>()).Select(ticket => (ticket.Number, ticket.State)).Should()
            .Equal((1, TicketState.Closed), (2, TicketState.New));
        (await _scene.RowsAsync<PumpOut>()).Should().ContainSingle().Which.Should().BeEquivalentTo(
            new { At = WatchScene.Start.AddMinutes(90), Source = PumpOutSource.Telemetry }).And.Match<PumpOut>(p => Math.Abs(p.Litres - 166) < 0.01);
    }

    [Fact]
    public async Task A_silence_that_nobody_took_closes_its_ticket_when_the_station_comes_back()
    {
        await _scene.SayAsync("battery/charge", 0.9);
        await _scene.PassWatchingAsync(TimeSpan.FromHours(42));
        (await _scene.RowsAsync<Ticket>()).Should().ContainSingle().Which.Rule.Should().Be(Rule.NotReporting);

        await _scene.SayAsync("battery/charge", 0.9);

        (await _scene.RowsAsync<Ticket>()).Single().Should().BeEquivalentTo(
            new { State = TicketState.Closed, Outcome = TicketOutcome.ClearedByItself, Closed = _scene.Now, ClosedById = (string?)null });
        (await _scene.RowsAsync<TicketEvent>()).Select(happening => happening.Kind).Should().Equal(TicketEventKind.Raised, TicketEventKind.Closed);
        (await _scene.RowsAsync<ProblemRow>()).Should().BeEmpty();
    }

    [Fact]
    public async Task What_came_and_went_while_the_watch_was_held_up_is_recorded_at_its_times_and_not_mailed()
    {
        await _scene.SayAsync("tank/fill", 0.4);
        foreach (double share in (double[])[0.85, 0.85, 0.85, 0.85, 0.85, 0.1, 0.1, 0.1, 0.1, 0.1])
        {
            _scene.Pass(TimeSpan.FromMinutes(5));
            await _scene.ReportAsync(("tank/fill", share));
        }

        await _scene.RunAsync();

        Ticket ticket = (await _scene.RowsAsync<Ticket>()).Should().ContainSingle().Subject;
        ticket.Raised.Should().Be(WatchScene.Start.AddMinutes(30));
        ticket.ProblemCleared.Should().Be(WatchScene.Start.AddMinutes(65));
    }

    [Fact]
    public async Task A_silence_while_the_server_was_down_is_not_held_against_the_station()
    {
        await _scene.SayAsync("battery/charge", 0.9);
        _scene.Pass(TimeSpan.FromHours(60));

        await _scene.RunAsync();

        (await _scene.RowsAsync<ProblemRow>()).Should().BeEmpty();
        (await _scene.RowsAsync<ServerDowntime>()).Should().ContainSingle().Which.Should().BeEquivalentTo(
            new { From = WatchScene.Start.AddMinutes(15), To = _scene.Now });
        await _scene.PassWatchingAsync(TimeSpan.FromHours(4));
        (await _scene.RowsAsync<ProblemRow>()).Should().ContainSingle().Which.Rule.Should().Be(Rule.NotReporting);
    }

    [Fact]
    public async Task Stations_that_fall_silent_together_are_one_ticket_that_names_the_others()
    {
        Station second = await _scene.AddStationAsync("OTT-1");
        Station third = await _scene.AddStationAsync("SOR-1");
        _scene.Pass(TimeSpan.FromMinutes(15));
        foreach (Station station in (Station[])[_scene.Station, second, third])
        {
            await _scene.ReportAsync(station, _scene.Now, ("battery/charge", 0.9));
        }

        await _scene.PassWatchingAsync(TimeSpan.FromHours(42));

        Ticket ticket = (await _scene.RowsAsync<Ticket>()).Should().ContainSingle().Subject;
        ticket.StationId.Should().Be(_scene.Station.Id);
        WatchJson.Read<Evidence>(ticket.Evidence).Should().BeOfType<NotReportingEvidence>().Which.Others.Should().Be("OTT-1 and SOR-1");
        (await _scene.RowsAsync<ProblemRow>()).Should().HaveCount(3).And.OnlyContain(row => row.Rule == Rule.NotReporting);
    }

    [Theory]
    [InlineData(3, 44.4, false)]
    [InlineData(2, 44.4, true)]
    [InlineData(3, 46.4, true)]
    public async Task Haze_over_three_panels_around_is_not_held_against_one_of_them_but_two_or_panels_far_away_prove_none(
        int others, double latitude, bool isWeak)
    {
        _scene.Pass(TimeSpan.FromDays(70));
        await _scene.File.AddAsync(new StationPower { StationId = _scene.Station.Id, From = WatchScene.Start, CapacityAh = 100, NominalVolts = 12, PanelWatts = 100 });
        Access away = await _scene.File.AddAccessAsync("away");
        await using (FleetDbContext db = _scene.File.CreateDbContext())
        {
            await db.Accesses.Where(access => access.Id == away.Id).ExecuteUpdateAsync(set => set.SetProperty(access => access.Latitude, latitude));
        }

        for (int i = 0; i < others; i++)
        {
            Station other = await _scene.AddStationAsync($"OTT-{i}", away);
            await _scene.File.AddAsync(Position(other, 0.78));
        }

        WatchPosition own = Position(_scene.Station, 0.72);
        await _scene.File.AddAsync(own);
        await _scene.RunAsync();

        List<ProblemRow> weak = (await _scene.RowsAsync<ProblemRow>()).FindAll(row => row.Rule == Rule.WeakPanel);
        weak.Exists(row => row.StationId == _scene.Station.Id).Should().Be(isWeak);

        WatchPosition Position(Station station, double ratio)
        {
            WatchState state = WatchState.StartingAt(_scene.Now.AddMinutes(-30));
            DateOnly today = new(2026, 8, 10);
            state.Facts.Power.Tested = [.. Enumerable.Range(1, 40).Reverse().Select(ago => new PanelDay(today.AddDays(-ago), ago <= 14 ? 0.9 * ratio : 0.9))];
            state.Facts.Power.PanelRatio = ratio;
            return new WatchPosition { StationId = station.Id, EvaluatedTo = state.EvaluatedTo, PanelRatio = ratio, State = WatchJson.Write(state) };
        }
    }

    [Fact]
    public async Task A_closed_access_mutes_the_watch()
    {
        await _scene.File.AddAsync(new AccessClosure { AccessId = _scene.Access.Id, From = WatchScene.Start.AddMinutes(55), Reason = "Low water" });
        await _scene.SayAsync("tank/fill", 0.85, 0.85, 0.85);

        await _scene.SayAsync("tank/fill", 0.85);
        _scene.Pass(TimeSpan.FromHours(10));
        await _scene.RunAsync();

        (await _scene.RowsAsync<ProblemRow>()).Should().BeEmpty();
        (await _scene.RowsAsync<Ticket>()).Should().ContainSingle("the ticket stays for a person")
            .Which.Should().BeEquivalentTo(new { State = TicketState.New, ProblemCleared = (DateTimeOffset?)null });
    }

    [Fact]
    public async Task A_late_report_rolls_the_facts_back_and_replaces_the_pump_outs_since()
    {
        await _scene.SayAsync("tank/fill", 0.50, 0.50, 0.50, 0.50, 0.50);
        DateTimeOffset missed = _scene.Now.AddMinutes(5);
        await _scene.SayAsync("tank/fill", 0.02, 0.02, 0.02);
        (await _scene.RowsAsync<PumpOut>()).Should().ContainSingle().Which.At.Should().Be(missed.AddMinutes(10));

        await _scene.ReportAsync(_scene.Station, missed, ("tank/fill", 0.01));
        _scene.Pass(TimeSpan.FromMinutes(1));
        await _scene.RunAsync();

        (await _scene.RowsAsync<PumpOut>()).Should().ContainSingle().Which.At.Should().Be(missed);
    }

    [Fact]
    public async Task Watching_through_the_database_with_restarts_equals_one_run_in_memory()
    {
        Random random = new(20260601);
        List<(DateTimeOffset Received, DateTimeOffset At, double Fill, double Charge)> said = [];
        for (int quarter = 1; quarter <= 3 * 96; quarter++)
        {
            DateTimeOffset at = WatchScene.Start.AddMinutes(15 * quarter);
            bool isLate = random.Next(12) == 0;
            said.Add((isLate ? at.AddHours(random.Next(1, 30)) : at, at, Math.Min(1, quarter * 0.004), 0.7 - (0.3 * Math.Sin(quarter / 40.0))));
        }

        said = [.. said.OrderBy(row => row.Received).Where(row => row.Received <= WatchScene.Start.AddDays(3))];
        foreach (var row in said)
        {
            _scene.Pass(row.Received - _scene.Now);
            await _scene.ReportAsync(_scene.Station, row.At, ("tank/fill", row.Fill), ("battery/charge", row.Charge));
            if (random.Next(4) == 0)
            {
                await _scene.WatchAsync(_scene.Station);
            }
        }

        await _scene.WatchAsync(_scene.Station);

        await using FleetDbContext db = _scene.File.CreateDbContext();
        StationFleet.Domain.Fleet.StationSetup setup = (await new StationSetupReader(_scene.File).ReadAsync(_scene.Station.Id, _scene.Now, TimeZoneInfo.Utc, CancellationToken.None))!;
        WatchEngine engine = new(setup, WatchState.StartingAt(WatchScene.Start), TimeSpan.FromMinutes(5));
        WatchReport[] reports = [.. said.Select(row => new WatchReport(row.Received,
            [new Measurement("tank/fill", row.At, row.Fill), new Measurement("battery/charge", row.At, row.Charge)]))];
        WatchResult result = engine.Run(reports, _scene.Now, new WatchHistory(null, [], []));
        TicketLedger ledger = new([]);
        List<TicketCommand> commands = [.. result.Steps.SelectMany(ledger.Decide)];

        (await db.WatchPositions.SingleAsync()).State.Should().Be(WatchJson.Write(engine.State));
        (await db.Tickets.OrderBy(t => t.Number).Select(t => t.Raised).ToListAsync()).Should()
            .Equal(commands.OfType<TicketCommand.Raise>().Select(raise => raise.At)).And.NotBeEmpty();
        (await db.WatchCheckpoints.OrderBy(c => c.AsOf).Select(c => c.State).ToListAsync()).Should().Equal(
            result.Checkpoints.OrderBy(c => c.AsOf).Select(c => WatchJson.Write(c.Facts))).And.HaveCount(3);
    }

    private async Task ReportFullAsync()
    {
        await _scene.ReportAsync(("tank/fill", 0.85));
        for (int reading = 0; reading < 2; reading++)
        {
            _scene.Pass(TimeSpan.FromMinutes(5));
            await _scene.ReportAsync(("tank/fill", 0.85));
        }
    }

    private async Task CloseAsync(TicketOutcome outcome)
    {
        await using FleetDbContext db = _scene.File.CreateDbContext();
        Ticket ticket = await db.Tickets.SingleAsync();
        (ticket.State, ticket.Outcome, ticket.Closed, ticket.DoneAt) = (TicketState.Closed, outcome, _scene.Now, _scene.Now);
        ticket.Version++;
        await db.SaveChangesAsync();
    }
}
