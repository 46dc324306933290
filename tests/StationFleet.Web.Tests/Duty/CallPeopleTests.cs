using StationFleet.Domain.Mail;
using StationFleet.Domain.Service;
using StationFleet.Domain.Service.Duty;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Service;
using StationFleet.Web.Tests.Watch;

namespace StationFleet.Web.Tests.Duty;

/// <summary>Whom a ticket calls, and when. The scene begins on Monday 1 June 2026, 06:00 by the access's clock.</summary>
public sealed class CallPeopleTests : IAsyncLifetime
{
    private readonly WatchScene _scene = new();
    private int _number;

    public Task InitializeAsync() => _scene.InitializeAsync();

    public Task DisposeAsync() => _scene.DisposeAsync();

    [Fact]
    public async Task The_person_on_duty_alone_is_told_and_the_roster_of_an_access_goes_first()
    {
        FleetUser north = await PersonAsync("north", FleetRoles.Technician);
        FleetUser everywhere = await PersonAsync("everywhere", FleetRoles.Technician);
        await DutyAsync(everywhere, null, 5, 20);
        await DutyAsync(north, _scene.Access.Id, 5, 20);
        await RaiseAsync(_scene.Station);

        await CallAsync();

        (await ToAsync()).Should().Equal("north");
    }

    [Fact]
    public async Task A_stand_in_is_told_while_the_person_is_away_and_not_after()
    {
        FleetUser away = await PersonAsync("away", FleetRoles.Technician);
        FleetUser standIn = await PersonAsync("stand-in", FleetRoles.Technician);
        await DutyAsync(away, null, 0, 0);
        await _scene.File.AddAsync(new AbsenceEntry
        {
            PersonId = away.Id, StandInId = standIn.Id, FirstDay = new DateOnly(2026, 6, 1), LastDay = new DateOnly(2026, 6, 2),
        });

        await RaiseAsync(_scene.Station);
        await CallAsync();
        _scene.Pass(TimeSpan.FromDays(2));
        await RaiseAsync(await _scene.AddStationAsync("OTT-1"));
        await CallAsync();

        (await ToAsync()).Should().Equal("stand-in", "away");
    }

    [Fact]
    public async Task At_night_a_mail_waits_until_somebody_is_on_duty_and_what_was_taken_meanwhile_is_not_told()
    {
        await DutyAsync(await PersonAsync("early", FleetRoles.Technician), null, 7, 17);
        Ticket taken = await RaiseAsync(_scene.Station);
        await RaiseAsync(await _scene.AddStationAsync("OTT-1"));

        await CallAsync();
        (await ToAsync()).Should().BeEmpty("it is six, and duty begins at seven");

        _scene.File.Scalar($"UPDATE tickets SET state = 'Taken' WHERE number = {taken.Number}");
        _scene.Pass(TimeSpan.FromHours(1));
        await CallAsync();

        (await _scene.RowsAsync<OutgoingMail>()).Should().ContainSingle().Which.Subject.Should().StartWith("OTT-1: ");
    }

    [Fact]
    public async Task Quiet_hours_hold_a_mail_back_and_a_person_may_choose_others()
    {
        (_scene.Duty.QuietFrom, _scene.Duty.QuietTo) = (new TimeOnly(20, 0), new TimeOnly(6, 30));
        await RaiseAsync(_scene.Station);

        await CallAsync();
        (await ToAsync()).Should().BeEmpty("it is six");
        FleetUser technician = (await _scene.RowsAsync<FleetUser>()).Single(user => user.UserName == "technician");
        await _scene.File.AddAsync(new MailChoices { PersonId = technician.Id, QuietFrom = new TimeOnly(22, 0), QuietTo = new TimeOnly(5, 0) });
        await CallAsync();

        (await ToAsync()).Should().Equal("technician");
    }

    [Fact]
    public async Task Not_taken_within_working_hours_it_goes_one_step_on_at_a_time_and_a_weekend_does_not_count()
    {
        _scene.Duty.EscalateAfterHours = 4;
        _scene.Pass(TimeSpan.FromDays(4) + TimeSpan.FromHours(9)); // Friday 15:00
        await RaiseAsync(_scene.Station);
        await CallAsync();

        await PassAsync(TimeSpan.FromHours(66)); // Monday 09:00: four hours are two of Friday and two of Monday
        (await ToAsync()).Should().Equal("technician");
        await PassAsync(TimeSpan.FromHours(1));
        (await ToAsync()).Should().Equal("technician", "biologist");
        await PassAsync(TimeSpan.FromHours(4));
        (await ToAsync()).Should().Equal("technician", "biologist", "supervisor");
        await PassAsync(TimeSpan.FromDays(9));
        (await ToAsync()).Should().HaveCount(3, "there is nobody else to tell");

        List<OutgoingMail> mails = await _scene.RowsAsync<OutgoingMail>();
        mails[1].Text.Should().Contain("Nobody has taken this ticket; technician was told first.");
        (await _scene.RowsAsync<TicketCall>()).Select(call => call.Reason).Should().Equal(CallReason.Raised, CallReason.NotTaken, CallReason.NotTaken);
    }

    [Theory]
    [InlineData("UPDATE tickets SET state = 'Taken'")]
    [InlineData("UPDATE tickets SET problem_cleared = raised")]
    [InlineData("UPDATE tickets SET snoozed_until = 4102444800000")]
    public async Task What_somebody_took_or_snoozed_or_what_cleared_goes_no_further(string sql)
    {
        _scene.Duty.EscalateAfterHours = 4;
        await RaiseAsync(_scene.Station);
        await CallAsync();
        _scene.File.Scalar(sql);

        await PassAsync(TimeSpan.FromDays(3));

        (await ToAsync()).Should().Equal("technician");
    }

    [Fact]
    public async Task A_mail_that_was_refused_for_good_goes_to_the_next_person_at_once()
    {
        _scene.Duty.EscalateAfterHours = 4;
        await RaiseAsync(_scene.Station);
        await CallAsync();
        _scene.File.Scalar("UPDATE outgoing_mails SET state = 'Dead'");

        await CallAsync();
        await CallAsync();

        (await ToAsync()).Should().Equal("technician", "biologist");
    }

    [Fact]
    public async Task Several_problems_at_one_station_are_one_stop_and_other_stations_mails_of_their_own()
    {
        await RaiseAsync(_scene.Station);
        await RaiseAsync(_scene.Station, Rule.LowCharge, new LowChargeEvidence(0.3, 0.5));
        await RaiseAsync(await _scene.AddStationAsync("OTT-1"));

        await CallAsync();

        List<OutgoingMail> mails = await _scene.RowsAsync<OutgoingMail>();
        mails.Select(mail => mail.Subject).Should().Equal("COP-1: two problems, one stop (T-1, T-2)", "OTT-1: Pump out the tank (T-3)");
        (await _scene.RowsAsync<TicketCall>()).Select(call => call.MailId).Should().Equal(mails[0].Id, mails[0].Id, mails[1].Id);
    }

    [Fact]
    public async Task More_than_five_new_tickets_go_out_as_one_mail()
    {
        for (int i = 1; i <= 6; i++)
        {
            await RaiseAsync(await _scene.AddStationAsync($"SOR-{i}"));
        }

        await CallAsync();
        await CallAsync();

        OutgoingMail mail = (await _scene.RowsAsync<OutgoingMail>()).Should().ContainSingle().Subject;
        mail.Subject.Should().Be("Six tickets at six stations (T-1 to T-6)");
        mail.Text.Should().Contain("SOR-6").And.Contain("/tickets/6");
        (await _scene.RowsAsync<TicketCall>()).Should().HaveCount(6).And.OnlyContain(call => call.MailId == mail.Id);
    }

    [Fact]
    public async Task People_of_another_agency_or_with_a_locked_account_are_not_told()
    {
        Agency other = await _scene.File.AddAgencyAsync("Another district");
        await DutyAsync(await PersonAsync("stranger", FleetRoles.Technician, other), null, 0, 0);
        FleetUser gone = await PersonAsync("gone", FleetRoles.Technician);
        await DutyAsync(gone, null, 0, 0);
        _scene.File.Scalar($"UPDATE users SET lockout_end = {DateTimeOffset.MaxValue.ToUnixTimeMilliseconds()} WHERE id = '{gone.Id}'");
        await RaiseAsync(_scene.Station);

        await CallAsync();

        (await ToAsync()).Should().Equal("technician");
    }

    private Task<int> CallAsync() => _scene.Caller().HandleAsync(CancellationToken.None);

    /// <summary>Time passes, and somebody looks every half hour.</summary>
    private async Task PassAsync(TimeSpan time)
    {
        for (DateTimeOffset end = _scene.Now + time; _scene.Now < end;)
        {
            _scene.Pass(TimeSpan.FromMinutes(30));
            await CallAsync();
        }
    }

    private async Task<IEnumerable<string>> ToAsync() => (await _scene.RowsAsync<OutgoingMail>()).Select(mail => mail.To.Split('@')[0]);

    private Task<FleetUser> PersonAsync(string name, string role, Agency? agency = null) => _scene.AddPersonAsync(name, role, agency?.Id);

    private Task<DutyEntry> DutyAsync(FleetUser person, Domain.Fleet.AccessId? access, int from, int to) => _scene.File.AddAsync(new DutyEntry
    {
        PersonId = person.Id, AccessId = access, Days = Weekdays.All, From = new TimeOnly(from, 0), To = new TimeOnly(to, 0),
    });

    private async Task<Ticket> RaiseAsync(Station station, Rule rule = Rule.TankFilling, Evidence? evidence = null)
    {
        Ticket ticket = await _scene.File.AddAsync(new Ticket
        {
            Number = ++_number, StationId = station.Id, AccessId = _scene.Access.Id, Rule = rule, Part = "", State = TicketState.New,
            Raised = _scene.Now, Evidence = WatchJson.Write(evidence ?? new TankFillingEvidence(0.85, 200, null)),
        });
        await _scene.File.AddAsync(new TicketEvent { TicketId = ticket.Id, At = _scene.Now, Kind = TicketEventKind.Raised });
        return ticket;
    }
}
