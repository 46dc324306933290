using System.Net;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Office;
using StationFleet.Web.Tests.Service;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Tests.Watch;

public sealed class WatchQualityPageTests : IAsyncLifetime, IDisposable
{
    private const string Path = "/rules/quality";

    // The page counts all tickets, so each test has a fleet of its own.
    private readonly FleetApp _app = new();

    public Task InitializeAsync() => _app.InitializeAsync();

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task Without_tickets_the_page_says_so_and_from_when_there_are_data()
    {
        await _app.AddStationAsync("COP-1");
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("supervisor", FleetRoles.Supervisor);

        PlainBrowser.Page page = await browser.GoAsync(Path);

        page.Words.Should().Contain("The watch asked for no visit.")
            .And.Contain("Counted from 8 Jun 2026 to now, 4.3 weeks; the watch has data since 8 Jun 2026.")
            .And.Contain("No ticket is snoozed.").And.Contain("No rule sees a problem.");
        page.Html.Should().NotContain(">Change</button>", "a supervisor reads");
    }

    [Fact]
    public async Task The_first_line_answers_and_each_figure_has_its_definition()
    {
        await FillAsync();
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("administrator", FleetRoles.Administrator);

        PlainBrowser.Page page = await browser.GoAsync($"{Path}?period=30");

        // 4 tickets in 30 days and one technician.
        page.Words.Should().Contain("The watch asked for 0.9 visits per technician-week, within the budget of 4.8; one in three was for nothing.")
            .And.Contain("1 of 3, 33.3 % off target: under 10 %")
            .And.Contain("30 × 40 % ÷ 2.5 = 4.8.")
            .And.Contain("COP-1 Idle tool (wrench): two tickets.")
            .And.Contain("T-4 COP-1, Idle tool (wrench): done 3 Jul 2026, raised again 5 Jul 2026.")
            .And.Contain("Snoozed until 14 July by Biologist: parts ordered")
            .And.Contain("The tank holds");
        (await browser.GoAsync("/rules")).Html.Should().Contain("href=\"/rules/quality\"");
        (await browser.GoAsync("/season")).Html.Should().Contain("href=\"/rules/quality\"");
    }

    [Fact]
    public async Task The_period_decides_what_is_counted_and_the_season_is_its_first()
    {
        await FillAsync();
        ReadWatchQuality read = _app.Get<ReadWatchQuality>();

        ReadWatchQuality.View season = await read.HandleAsync(Viewers.Supervisor, null, CancellationToken.None);
        ReadWatchQuality.View month = await read.HandleAsync(Viewers.Supervisor, "30", CancellationToken.None);
        ReadWatchQuality.View unknown = await read.HandleAsync(Viewers.Supervisor, "decade", CancellationToken.None);

        season.Choices.Select(choice => choice.Name).Should().Equal("Season 2026 so far", "Last 30 days", "Last 90 days");
        (season.Period, unknown.Period, month.Period).Should().Be(("season", "season", "30"));
        (season.Quality.Raised, month.Quality.Raised).Should().Be((5, 4), "one was raised in May");
        season.From.Should().Be(new DateTimeOffset(2026, 5, 1, 0, 0, 0, TimeSpan.Zero));
    }

    [Fact]
    public async Task An_agency_s_people_see_figures_of_their_own_stations_and_a_technician_none()
    {
        await FillAsync();
        Agency stranger = await _app.AgencyAsync("Sorrel County Parks");
        (_, PlainBrowser technician) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);

        ReadWatchQuality.View theirs = await _app.Get<ReadWatchQuality>().HandleAsync(Viewers.BiologistOf(stranger.Id), null, CancellationToken.None);
        PlainBrowser.Page refused = await technician.GoAsync(Path);
        PlainBrowser.Page refusedFile = await technician.GoAsync($"{Path}.csv");

        (theirs.Quality.Raised, theirs.Problems.Count, theirs.WatchedSince, theirs.MayChange).Should().Be((0, 0, null, false));
        refused.Location.Should().Contain("/not-allowed");
        refusedFile.Status.Should().NotBe(HttpStatusCode.OK);
    }

    [Fact]
    public async Task The_budget_is_changed_on_the_page_and_judges_from_then_on()
    {
        await FillAsync();
        SaveFieldBudget.Command typed = SaveFieldBudget.Command.Of(new FieldBudget());
        (typed.FieldHoursPerWeek, typed.UnplannedShare, typed.Technicians) = ("10", "20", "2");

        (await SaveAsync(typed, Viewers.Supervisor)).Should().BeOfType<SaveFieldBudget.Outcome.NotAllowed>();
        (await SaveAsync(typed, Viewers.Biologist)).Should().BeOfType<SaveFieldBudget.Outcome.Saved>();
        typed.StaleAfterDays = "20";
        (await SaveAsync(typed, Viewers.Biologist)).Should().BeOfType<SaveFieldBudget.Outcome.Saved>();

        ReadWatchQuality.View view = await _app.Get<ReadWatchQuality>().HandleAsync(Viewers.Supervisor, "30", CancellationToken.None);
        view.Quality.Budget.Should().Be(new FieldBudget(2, 10, 0.2, 2.5, 20));
        view.Quality.PerTechnicianWeek.Should().BeApproximately(4 / (30.0 / 7) / 2, 1e-9);
        view.Quality.Budget.VisitsPerWeek.Should().BeApproximately(0.8, 1e-12);
    }

    [Theory]
    [InlineData(nameof(SaveFieldBudget.Command.Technicians), "0", "Write a whole number from 1 to 500.")]
    [InlineData(nameof(SaveFieldBudget.Command.Technicians), "1.5", "Write a whole number from 1 to 500.")]
    [InlineData(nameof(SaveFieldBudget.Command.FieldHoursPerWeek), "200", "Write a number from 1 to 80 hours.")]
    [InlineData(nameof(SaveFieldBudget.Command.UnplannedShare), "0", "Write a number from 1 to 100 %.")]
    [InlineData(nameof(SaveFieldBudget.Command.HoursPerVisit), "", "Write a number, such as 12.5.")]
    [InlineData(nameof(SaveFieldBudget.Command.StaleAfterDays), "soon", "Write a whole number from 1 to 365.")]
    public async Task A_wrong_budget_is_told_beside_its_field(string field, string value, string sentence)
    {
        SaveFieldBudget.Command typed = SaveFieldBudget.Command.Of(new FieldBudget());
        typeof(SaveFieldBudget.Command).GetProperty(field)!.SetValue(typed, value);

        (await SaveAsync(typed, Viewers.Biologist)).Should().BeOfType<SaveFieldBudget.Outcome.Refused>().Which.Wrong.Should()
            .BeEquivalentTo(new Dictionary<string, string> { [field] = sentence });
    }

    [Fact]
    public async Task The_figures_come_as_a_file_too()
    {
        await FillAsync();
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("supervisor", FleetRoles.Supervisor);

        PlainBrowser.Page file = await browser.GoAsync($"{Path}.csv?period=30");

        string[] lines = file.Html.Split("\r\n");
        lines[0].Should().Be("figure,value,unit,target,is_met,from,to,definition,note");
        lines.Should().ContainSingle(line => line.StartsWith("nothing_wrong_share,0.333333,1,under 10 %,no,2026-06-08T13:05:00Z,2026-07-08T13:05:00Z,", StringComparison.Ordinal));
    }

    /// <summary>
    /// One ticket in May; in the last 30 days two of the wrench, the second two days after the first was done, one of the brush for
    /// nothing, and one of the tank that is snoozed.
    /// </summary>
    private async Task FillAsync()
    {
        Ticket tank = await _app.AddTankTicketAsync(5);
        IdleToolEvidence idle = new("Wrench", null, FleetApp.Start.AddDays(-20), 30, 1000, null);
        foreach ((int number, string part, double raised, double done, TicketOutcome outcome) in new[]
        {
            (1, "wrench", -60, -58, TicketOutcome.Fixed), (2, "wrench", -7.0, -5, TicketOutcome.Fixed),
            (3, "brush", -10, -9, TicketOutcome.NothingWrong), (4, "wrench", -3, -2, TicketOutcome.Fixed),
        })
        {
            await _app.Databases.AddAsync(new Ticket
            {
                Number = number,
                StationId = tank.StationId,
                AccessId = tank.AccessId,
                Rule = Rule.IdleTool,
                Part = part,
                State = TicketState.Closed,
                Raised = FleetApp.Start.AddDays(raised),
                Closed = FleetApp.Start.AddDays(done),
                DoneAt = FleetApp.Start.AddDays(done),
                Outcome = outcome,
                Evidence = WatchJson.Write<Evidence>(idle),
            });
        }

        await _app.Databases.AddAsync(new ProblemRow
        {
            StationId = tank.StationId,
            Rule = Rule.TankFilling,
            Part = "",
            Urgency = Urgency.NeedsVisit,
            Since = tank.Raised,
            Evidence = tank.Evidence,
        });
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("Biologist", FleetRoles.Biologist);
        using (browser)
        {
            await browser.SendAsync(
                "/tickets/5", await browser.GoAsync("/tickets/5"), "Act", "snooze", ("SnoozeUntil", "2026-07-14"), ("SnoozeReason", "parts ordered"));
        }
    }

    private Task<SaveFieldBudget.Outcome> SaveAsync(SaveFieldBudget.Command typed, Viewer viewer) =>
        _app.Get<SaveFieldBudget>().HandleAsync(viewer, typed, CancellationToken.None);
}
