using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Service;
using StationFleet.Web.Fleet;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Service;

public sealed class SnoozeTests : IAsyncLifetime, IDisposable
{
    private const string Path = "/tickets/118";

    // Days pass in these tests, so each has a fleet of its own.
    private readonly FleetApp _app = new();

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        await _app.AddTankTicketAsync(118);
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task A_snoozed_ticket_needs_no_visit_and_has_its_own_place_on_the_lists()
    {
        using PlainBrowser browser = await BiologistAsync();

        PlainBrowser.Page answer = await SnoozeAsync(browser, await browser.GoAsync(Path));

        answer.Location.Should().EndWith($"{Path}?done=snooze");
        (await browser.GoAsync($"{Path}?done=snooze")).Words.Should().Contain("Snoozed until 14 July by Biologist: parts ordered")
            .And.Contain("without another mail");
        (await _app.TicketAsync(118)).SnoozedUntil.Should().Be(new DateTimeOffset(2026, 7, 14, 6, 0, 0, TimeSpan.Zero), "14 July begins in Boise at 06:00 UTC");
        (await ConditionAsync()).Should().NotBe(StationCondition.NeedsVisit);
        (await NeedsAsync()).Should().BeEmpty();
        (await browser.GoAsync("/tickets")).Words.Should().Contain("No ticket waits for a person. One is snoozed.")
            .And.Contain("Snoozed until 14 July by Biologist: parts ordered");
        (await browser.GoAsync("/work")).Words.Should().Contain("Nothing to do.").And.Contain("Snoozed until 14 July by Biologist: parts ordered");
        (await browser.GoAsync("/stations/COP-1")).Words.Should().Contain("snoozed until 14 July");
    }

    [Fact]
    public async Task It_ends_by_itself_as_its_day_begins_without_another_mail()
    {
        using PlainBrowser browser = await BiologistAsync();
        await SnoozeAsync(browser, await browser.GoAsync(Path));
        DateTimeOffset ends = new(2026, 7, 14, 6, 0, 0, TimeSpan.Zero);

        _app.Clock.SetUtcNow(ends.AddSeconds(-1));
        IReadOnlyList<int> before = await NeedsAsync();
        _app.Clock.SetUtcNow(ends);

        before.Should().BeEmpty();
        (await NeedsAsync()).Should().Equal(118);
        (await ConditionAsync()).Should().Be(StationCondition.NeedsVisit);
        (await browser.GoAsync("/work")).Words.Should().Contain("Nothing of yours; one to take.").And.NotContain("Snoozed");
        (await _app.ReadAsync(db => db.OutgoingMails.CountAsync())).Should().Be(0);
    }

    [Fact]
    public async Task When_the_problem_cleared_meanwhile_it_does_not_come_back_to_Today_but_waits_to_be_closed()
    {
        using PlainBrowser browser = await BiologistAsync();
        await SnoozeAsync(browser, await browser.GoAsync(Path));
        await SetClearedAsync(FleetApp.Start.AddDays(2));
        _app.Clock.SetUtcNow(FleetApp.Start.AddDays(7));

        IReadOnlyList<int> cleared = await NeedsAsync();
        PlainBrowser.Page tickets = await browser.GoAsync("/tickets");
        await SetClearedAsync(null);

        cleared.Should().BeEmpty();
        tickets.Words.Should().Contain("One ticket is open, at COP-1").And.Contain("the problem has cleared by itself");
        (await NeedsAsync()).Should().Equal([118], "the problem came back");
    }

    [Fact]
    public async Task A_taken_ticket_is_snoozed_and_stays_taken_and_the_snooze_can_be_ended_early()
    {
        using PlainBrowser browser = await BiologistAsync();
        await browser.SendAsync(Path, await browser.GoAsync(Path), "Act", "take");
        await SnoozeAsync(browser, await browser.GoAsync(Path));
        PlainBrowser.Page work = await browser.GoAsync("/work");

        PlainBrowser.Page answer = await browser.SendAsync(Path, await browser.GoAsync(Path), "Act", "wake");

        work.Words.Should().Contain("Snoozed until 14 July by Biologist: parts ordered");
        answer.Location.Should().EndWith($"{Path}?done=wake");
        Ticket ticket = await _app.TicketAsync(118);
        (ticket.State, ticket.SnoozedUntil).Should().Be((TicketState.Taken, null));
        (await NeedsAsync()).Should().Equal(118);
        (await _app.EventsAsync(118)).Select(happening => happening.Kind)
            .Should().Equal(TicketEventKind.Raised, TicketEventKind.Taken, TicketEventKind.Snoozed, TicketEventKind.SnoozeEnded);
        (await browser.GoAsync(Path)).Words.Should().Contain("Biologist ended the snooze").And.Contain("Until 14 July.");
    }

    [Theory]
    [InlineData("2026-07-08", "parts ordered", "SnoozeUntil", "Write a date from 2026-07-09 to 2026-07-22.")]
    [InlineData("2026-07-23", "parts ordered", "SnoozeUntil", "Write a date from 2026-07-09 to 2026-07-22.")]
    [InlineData("next week", "parts ordered", "SnoozeUntil", "Write a date, such as 2026-07-04.")]
    [InlineData("2026-07-14", "  ", "SnoozeReason", "Write why it can wait, such as: parts ordered.")]
    public async Task A_wrong_day_or_no_reason_says_so_beside_its_field_and_keeps_what_was_typed(string until, string reason, string field, string sentence)
    {
        using PlainBrowser browser = await BiologistAsync();

        PlainBrowser.Page answer = await browser.SendAsync(
            Path, await browser.GoAsync(Path), "Act", "snooze", ("SnoozeUntil", until), ("SnoozeReason", reason), ("Found", "Hose is cracked."));

        answer.WrongBeside(field).Should().Be(sentence);
        answer.Html.Should().MatchRegex("<details[^>]* open");
        (answer.Field("SnoozeUntil"), answer.Field("SnoozeReason"), answer.TextArea("Found")).Should().Be((until, reason, "Hose is cracked."));
        (await _app.TicketAsync(118)).SnoozedUntil.Should().BeNull();
    }

    [Fact]
    public async Task The_last_day_that_may_be_chosen_is_two_weeks_ahead_and_another_snooze_changes_the_day()
    {
        using PlainBrowser browser = await BiologistAsync();
        await SnoozeAsync(browser, await browser.GoAsync(Path));

        await SnoozeAsync(browser, await browser.GoAsync(Path), "2026-07-22", "the pump truck is in the shop");

        (await browser.GoAsync(Path)).Words.Should().Contain("Snoozed until 22 July by Biologist: the pump truck is in the shop");
    }

    [Fact]
    public async Task The_same_form_sent_twice_is_one_event()
    {
        using PlainBrowser browser = await BiologistAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page first = await SnoozeAsync(browser, page);
        PlainBrowser.Page second = await SnoozeAsync(browser, page);

        second.Location.Should().Be(first.Location);
        (await _app.EventsAsync(118)).Should().HaveCount(2);
    }

    [Fact]
    public async Task Who_did_not_know_of_the_snooze_is_told_before_closing()
    {
        using PlainBrowser browser = await BiologistAsync();
        (_, PlainBrowser technician) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        PlainBrowser.Page theirs = await technician.GoAsync(Path);
        await SnoozeAsync(browser, await browser.GoAsync(Path));

        PlainBrowser.Page answer = await technician.SendAsync(Path, theirs, "Act", "close", ("Outcome", "Fixed"));

        answer.Words.Should().Contain("Biologist snoozed it today 07:05. Until 14 July.");
        (await technician.SendAsync(Path, answer, "Act", "close", ("Outcome", "Fixed"))).Location.Should().EndWith("done=close");
        PlainBrowser.Page late = await SnoozeAsync(browser, await browser.GoAsync(Path));
        late.Words.Should().Contain("This ticket is closed; there is nothing to snooze.");
    }

    [Fact]
    public async Task A_supervisor_reads_why_but_does_not_snooze()
    {
        using PlainBrowser browser = await BiologistAsync();
        (_, PlainBrowser supervisor) = await _app.AddBrowserAsync("supervisor", FleetRoles.Supervisor);
        PlainBrowser.Page refused = await SnoozeAsync(supervisor, await supervisor.GoAsync(Path));
        await SnoozeAsync(browser, await browser.GoAsync(Path));

        PlainBrowser.Page page = await supervisor.GoAsync(Path);

        refused.Words.Should().Contain("Your role only reads tickets.");
        page.Words.Should().Contain("Snoozed until 14 July by Biologist: parts ordered").And.NotContain("End the snooze now");
    }

    private static Task<PlainBrowser.Page> SnoozeAsync(
        PlainBrowser browser, PlainBrowser.Page page, string until = "2026-07-14", string reason = "parts ordered") =>
        browser.SendAsync(Path, page, "Act", "snooze", ("SnoozeUntil", until), ("SnoozeReason", reason));

    private async Task<PlainBrowser> BiologistAsync() => (await _app.AddBrowserAsync("Biologist", FleetRoles.Biologist)).Browser;

    private async Task<IReadOnlyList<int>> NeedsAsync() =>
        [.. (await _app.Get<ReadToday>().HandleAsync(Viewers.Biologist, CancellationToken.None)).Needs.Select(need => need.Number)];

    private async Task<StationCondition> ConditionAsync() =>
        (await _app.Get<ReadStationStates>().HandleAsync(Viewers.Biologist, CancellationToken.None)).Single().Condition;

    private Task<int> SetClearedAsync(DateTimeOffset? at) => _app.ReadAsync(db => db.Tickets.Where(ticket => ticket.Number == 118)
        .ExecuteUpdateAsync(set => set.SetProperty(ticket => ticket.ProblemCleared, at)));
}
