using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Grants;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Grants;

public sealed class AwardTests : IAsyncLifetime, IDisposable
{
    private readonly FleetApp _app = new();

    public Task InitializeAsync() => _app.InitializeAsync();

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task The_page_says_which_report_is_due_next_and_today_tells_it_too()
    {
        await _app.AddAwardAsync("JBWD-2026-02");
        await _app.Databases.AddStationAsync();
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("supervisor", FleetRoles.Supervisor);
        using PlainBrowser supervisor = browser;
        (_, PlainBrowser other) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        using PlainBrowser crew = other;

        (await supervisor.GoAsync("/awards")).Words.Should().Contain("One report is overdue: Report for January to March 2026 of JBWD-2026-02.");
        await HandInAsync(new DateOnly(2026, 3, 31));

        (await supervisor.GoAsync("/awards")).Words.Should().Contain("Report for April to June 2026 of JBWD-2026-02 is due on 30 Jul 2026, in 22 days.");
        (await supervisor.GoAsync("/")).Words.Should().Contain("JBWD-2026-02 Report for April to June 2026 is due on 30 Jul 2026, in 22 days.");
        (await crew.GoAsync("/")).Words.Should().NotContain("JBWD-2026-02");
    }

    [Fact]
    public async Task The_day_that_the_pass_through_named_prevails()
    {
        Award award = await _app.AddAwardAsync("SUB-1");

        (await SaveReportAsync(award, new DateOnly(2026, 6, 30), named: "2026-07-15")).Should().BeOfType<SaveAwardReport.Outcome.Saved>();
        (await SaveReportAsync(award, new DateOnly(2026, 5, 31), named: "2026-07-15")).Should().BeOfType<SaveAwardReport.Outcome.NotAllowed>("no such period");

        IReadOnlyList<DueDate> due = await _app.Get<ReadDueDates>().HandleAsync(Viewers.Supervisor, new DateOnly(2026, 8, 1), CancellationToken.None);
        due.Should().Contain(report => report.PeriodEnd == new DateOnly(2026, 6, 30) && report.Due == new DateOnly(2026, 7, 15));
    }

    [Fact]
    public async Task Reminders_go_to_the_supervisor_once_each_30_14_and_3_days_before()
    {
        await _app.AddAwardAsync("JBWD-2026-02");
        await HandInAsync(new DateOnly(2026, 3, 31));
        await _app.AddPersonAsync("supervisor@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        await _app.AddPersonAsync("technician@juniper-basin.example", "correct horse battery", FleetRoles.Technician);
        List<int> written = [];
        for (int day = 0; day < 24; day++)
        {
            written.Add(await RemindAsync());
            written.Add(await RemindAsync());
            _app.Clock.Advance(TimeSpan.FromDays(1));
        }

        List<OutgoingMail> mails = await MailsAsync();
        written.Sum().Should().Be(3);
        mails.Select(mail => mail.To).Should().AllBe("supervisor@juniper-basin.example");
        mails.Select(mail => mail.Subject).Should().Equal(
            "JBWD-2026-02: Report for April to June 2026 is due on 30 Jul 2026, in 22 days",
            "JBWD-2026-02: Report for April to June 2026 is due on 30 Jul 2026, in 14 days",
            "JBWD-2026-02: Report for April to June 2026 is due on 30 Jul 2026, in three days");
    }

    [Fact]
    public async Task An_indicator_takes_its_actual_from_the_season_figures_of_the_award_s_stations()
    {
        Award award = await _app.AddAwardAsync("IND-1");
        Award other = await _app.AddAwardAsync("IND-2");
        Station mine = await _app.Databases.AddStationAsync("COP-1");
        Station foreign = await _app.Databases.AddStationAsync("OTT-1");
        foreach ((Station station, int uses) in new[] { (mine, 120), (foreign, 500) })
        {
            await _app.Databases.AddPlacementAsync(station, await _app.Databases.AddAccessAsync(station.Code.ToLowerInvariant()));
            await _app.Databases.AddToolAsync(station);
            await _app.Get<MeasurementWriter>().WriteAsync(
                FleetBuilders.Report(station, [.. Enumerable.Range(0, uses + 1).Select(count => new Measurement(
                    MeasurementName.Uses("vacuum"), FleetApp.Start.AddDays(-20).AddMinutes(20 * count), count))]),
                CancellationToken.None);
        }

        await _app.Databases.AddAsync(new AwardStation { AwardId = award.Id, StationId = mine.Id });
        await _app.Databases.AddAsync(new AwardStation { AwardId = other.Id, StationId = mine.Id });
        await IndicatorAsync(award, "B-01", "uses", "1000");
        await IndicatorAsync(award, "B-02", "", "4", "Outreach days", "2");
        SaveIndicator.Outcome twice = await IndicatorAsync(award, "B-01", "uses", "");

        ReadAward.View view = (await _app.Get<ReadAward>().HandleAsync(Viewers.Supervisor, new ReadAward.Query(award.Id), CancellationToken.None))!;
        view.Indicators.Select(row => (row.Line.Label, row.Line.Target, row.Line.Actual)).Should().Equal(("B-01", 1000, 120), ("B-02", 4, 2));
        view.Indicators[0].Line.Description.Should().StartWith("How far the tools' counters rose");
        view.Shared.Should().Be("Against double counting: the figures of COP-1 stand in IND-2 too.");
        twice.Should().BeOfType<SaveIndicator.Outcome.Refused>().Which.Wrong.Should().ContainKey("Label");
        ReadAward.View before = (await _app.Get<ReadAward>().HandleAsync(
            Viewers.Supervisor, new ReadAward.Query(award.Id, new DateOnly(2026, 5, 1), new DateOnly(2026, 5, 31)), CancellationToken.None))!;
        before.Indicators[0].Line.Actual.Should().Be(0, "nothing was used in May");
    }

    [Fact]
    public async Task Terms_are_data_and_a_changed_period_moves_the_due_date()
    {
        Award award = await _app.AddAwardAsync("TERM-1");
        AwardTermsSet set = (await _app.Get<SaveTerms>().ListAsync(CancellationToken.None)).Single(each => each.Id == GrantScene.Since2024);
        SaveTerms.Command change = SaveTerms.Command.Of(set);
        change.Periods["Quarter"] = "45";
        (await _app.Get<SaveTerms>().HandleAsync(Viewers.Supervisor, change, CancellationToken.None)).Should().BeOfType<SaveTerms.Outcome.Saved>();
        change.Periods["Quarter"] = "soon";

        (await _app.Get<SaveTerms>().HandleAsync(Viewers.Supervisor, change, CancellationToken.None)).Should().BeOfType<SaveTerms.Outcome.Refused>()
            .Which.Wrong["Quarter"].Should().Be("Write a number, such as 12.5.");
        (await _app.Get<SaveTerms>().HandleAsync(Viewers.Technician, change, CancellationToken.None)).Should().BeOfType<SaveTerms.Outcome.NotAllowed>();
        (await _app.Get<ReadDueDates>().HandleAsync(Viewers.Supervisor, DateOnly.MaxValue, CancellationToken.None))
            .First(due => due.Award == award.Id).Due.Should().Be(new DateOnly(2026, 5, 15), "45 days after 31 March");
        (await _app.Get<SaveTerms>().ListAsync(CancellationToken.None))[0].Terms.EquipmentFrom.Should().Be(set.Terms.EquipmentFrom);
    }

    [Theory]
    [InlineData("Number", "", "Write the award's number.")]
    [InlineData("Ends", "2025-12-31", "It must end after it starts.")]
    [InlineData("Stations", "COP-1, NOWHERE-7", "There is no station NOWHERE-7.")]
    [InlineData("Terms", "99", "Choose terms of the list.")]
    [InlineData("MatchRequired", "", "Write an amount, such as 12,500 or 89.90.")]
    public async Task A_wrong_field_is_told_beside_it(string field, string value, string sentence)
    {
        await _app.Databases.AddStationAsync("COP-1");
        SaveAward.Command typed = new() { Number = "NEW-1", Title = "Clean boats", Funder = "State", Starts = "2026-01-01", Ends = "2026-12-31" };
        typeof(SaveAward.Command).GetProperty(field)!.SetValue(typed, value);

        (await _app.Get<SaveAward>().HandleAsync(Viewers.Supervisor, typed, CancellationToken.None))
            .Should().BeOfType<SaveAward.Outcome.Refused>().Which.Wrong[field].Should().Be(sentence);
    }

    private Task<int> RemindAsync() => _app.Get<RemindOfReports>().HandleAsync(CancellationToken.None);

    private async Task<List<OutgoingMail>> MailsAsync()
    {
        await using FleetDbContext db = await _app.Databases.CreateDbContextAsync();
        return await db.OutgoingMails.OrderBy(mail => mail.Id).ToListAsync();
    }

    private async Task HandInAsync(DateOnly periodEnd)
    {
        Award award = await _app.Databases.CreateDbContext().Awards.SingleAsync();
        (await SaveReportAsync(award, periodEnd, handedIn: "2026-04-12")).Should().BeOfType<SaveAwardReport.Outcome.Saved>();
    }

    private Task<SaveAwardReport.Outcome> SaveReportAsync(Award award, DateOnly periodEnd, string named = "", string handedIn = "") =>
        _app.Get<SaveAwardReport>().HandleAsync(
            Viewers.Supervisor, new SaveAwardReport.Command { Award = award.Id, PeriodEnd = periodEnd, NamedDue = named, HandedIn = handedIn }, CancellationToken.None);

    private Task<SaveIndicator.Outcome> IndicatorAsync(Award award, string label, string figure, string target, string description = "", string written = "") =>
        _app.Get<SaveIndicator>().HandleAsync(
            Viewers.Supervisor,
            new SaveIndicator.Command { Award = award.Id, Label = label, Figure = figure, Target = target, Description = description, Written = written },
            CancellationToken.None);
}
