using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;

namespace StationFleet.Web.Tests.Service;

public sealed class TicketPageTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _lastNumber = 100;
    private readonly int _number = Interlocked.Increment(ref _lastNumber);

    private string Path => $"/tickets/{_number}";

    [Fact]
    public async Task The_page_says_what_why_cautions_and_steps_and_needs_no_script()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        page.Status.Should().Be(HttpStatusCode.OK);
        page.Words.Should().Contain($"ST-{_number} · Dam Road access, Copperline Reservoir")
            .And.Contain("Pump out the tank")
            .And.Contain("The tank holds 46 of 55 gal")
            .And.Contain("never lift or tip")
            .And.Contain("Pump out, rinse, close the valve.");
        page.Html.Should().NotContain("blazor.web.js").And.NotContain("MudBlazor");
    }

    [Fact]
    public async Task Taking_a_ticket_makes_it_ones_own()
    {
        (FleetUser person, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page answer = await browser.SendAsync(Path, page, "Act", "take");

        answer.Location.Should().EndWith($"{Path}?done=take");
        Ticket ticket = await app.TicketAsync(_number);
        ticket.State.Should().Be(TicketState.Taken);
        ticket.TakenById.Should().Be(person.Id);
        (await browser.GoAsync($"{Path}?done=take")).Words.Should().Contain($"T-{_number} · taken by you").And.Contain("It is yours now.");
    }

    [Fact]
    public async Task Closing_stores_outcome_visit_and_pump_out()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page answer = await browser.SendAsync(
            Path, page, "Act", "close",
            ("PumpedOut", "45"), ("Minutes", "35"), ("Found", "Valve was stiff."), ("Outcome", "Fixed"),
            ("Steps", "Pump out, rinse, close the valve."), ("DoneAt", "2026-07-08T06:30"));

        answer.Location.Should().EndWith($"{Path}?done=close");
        Ticket ticket = await app.TicketAsync(_number);
        ticket.State.Should().Be(TicketState.Closed);
        ticket.Outcome.Should().Be(TicketOutcome.Fixed);
        ticket.Closed.Should().Be(FleetApp.Start);
        ticket.DoneAt.Should().Be(new DateTimeOffset(2026, 7, 8, 12, 30, 0, TimeSpan.Zero), "06:30 in Boise, in summer, is 12:30 UTC");
        ServiceVisit visit = (await app.VisitsAsync(_number)).Single();
        visit.Should().BeEquivalentTo(new { Who = $"field crew {_number}", Minutes = 35, At = ticket.DoneAt, TicketId = ticket.Id });
        PumpOut pumpOut = (await app.PumpOutsAsync(_number)).Single();
        pumpOut.Litres.Should().BeApproximately(170.34353, 1e-5, "45 US gallons of 3.785411784 L");
        (pumpOut.VisitId, pumpOut.Source).Should().Be((visit.Id, PumpOutSource.Visit));
        TicketEvent closed = (await app.EventsAsync(_number))[^1];
        closed.Note.Should().Be("Fixed.\nValve was stiff.\nDone: Pump out, rinse, close the valve.");
    }

    [Fact]
    public async Task What_the_stick_said_is_kept_with_the_pump_out()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page without = await browser.SendAsync(Path, page, "Act", "close", ("Dip", "38"), ("DipUnit", "gal"), ("Outcome", "Fixed"));
        PlainBrowser.Page shapeless = await browser.SendAsync(
            Path, without, "Act", "close", ("PumpedOut", "38"), ("Dip", "22"), ("DipUnit", "in"), ("Outcome", "Fixed"));
        PlainBrowser.Page closed = await browser.SendAsync(
            Path, shapeless, "Act", "close", ("PumpedOut", "38"), ("Dip", "38.5"), ("DipUnit", "gal"), ("Outcome", "Fixed"));

        without.WrongBeside("PumpedOut").Should().Be("Write how much was pumped out: the dip is kept with it.");
        without.Field("Dip").Should().Be("38");
        shapeless.WrongBeside("Dip").Should().StartWith("The tank's shape is not set up: read gallons off the stick");
        closed.Location.Should().EndWith("done=close");
        PumpOut pumpOut = (await app.PumpOutsAsync(_number)).Single();
        pumpOut.DipLitres.Should().BeApproximately(145.738, 0.001, "38.5 US gallons of 3.785411784 L");
        pumpOut.DipLevelM.Should().BeNull();
    }

    [Fact]
    public async Task A_stick_read_in_inches_is_kept_as_a_height_where_the_shape_is_known()
    {
        (_, PlainBrowser browser) = await StartAsync();
        Ticket ticket = await app.TicketAsync(_number);
        await app.ReadAsync(async db =>
        {
            StationTank tank = await db.StationTanks.SingleAsync(row => row.StationId == ticket.StationId);
            tank.Shape = new VerticalCylinder(0.5715, 0.8509);
            return await db.SaveChangesAsync();
        });
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page tooHigh = await browser.SendAsync(
            Path, page, "Act", "close", ("PumpedOut", "38"), ("Dip", "44"), ("DipUnit", "in"), ("Outcome", "Fixed"));
        await browser.SendAsync(Path, tooHigh, "Act", "close", ("PumpedOut", "38"), ("Dip", "22.5"), ("DipUnit", "in"), ("Outcome", "Fixed"));

        tooHigh.WrongBeside("Dip").Should().Be("The tank is 34 in high. Is the number right?");
        (await app.PumpOutsAsync(_number)).Single().DipLevelM.Should().BeApproximately(0.5715, 1e-9);
    }

    [Fact]
    public async Task The_same_form_sent_twice_is_one_event_and_one_pump_out()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        (string, string)[] typed = [("PumpedOut", "45"), ("Outcome", "Fixed")];

        PlainBrowser.Page first = await browser.SendAsync(Path, page, "Act", "close", typed);
        PlainBrowser.Page second = await browser.SendAsync(Path, page, "Act", "close", typed);

        second.Location.Should().Be(first.Location);
        (await app.EventsAsync(_number)).Select(happening => happening.Kind).Should().Equal(TicketEventKind.Raised, TicketEventKind.Closed);
        (await app.PumpOutsAsync(_number)).Should().ContainSingle();
    }

    [Fact]
    public async Task Somebody_elses_closing_is_told_and_what_was_typed_stays()
    {
        (_, PlainBrowser browser) = await StartAsync();
        (_, PlainBrowser other) = await app.AddBrowserAsync($"second crew {_number}", FleetRoles.Technician);
        PlainBrowser.Page mine = await browser.GoAsync(Path);
        PlainBrowser.Page theirs = await other.GoAsync(Path);
        await other.SendAsync(Path, theirs, "Act", "close", ("Outcome", "NothingWrong"));

        PlainBrowser.Page answer = await browser.SendAsync(
            Path, mine, "Act", "close", ("Outcome", "Fixed"), ("PumpedOut", "45"), ("Found", "All pumped out."));

        answer.Status.Should().Be(HttpStatusCode.OK);
        answer.Words.Should().Contain($"second crew {_number} closed it today 07:05. Nothing wrong.").And.Contain("Nothing of yours was stored.");
        answer.TextArea("Found").Should().Be("All pumped out.");
        answer.Field("PumpedOut").Should().Be("45");
        (await app.TicketAsync(_number)).Outcome.Should().Be(TicketOutcome.NothingWrong);
        (await app.PumpOutsAsync(_number)).Should().BeEmpty();

        // It can still be added to the closed ticket's history.
        PlainBrowser.Page added = await browser.SendAsync(
            Path, answer, "Act", "note", ("PumpedOut", "45"), ("Found", "All pumped out."));

        added.Location.Should().EndWith("done=note");
        (await app.PumpOutsAsync(_number)).Should().ContainSingle();
    }

    [Fact]
    public async Task Newer_numbers_from_the_watch_do_not_stand_in_the_way()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        await app.ReadAsync(db => db.Tickets.Where(ticket => ticket.Number == _number).ExecuteUpdateAsync(set => set.SetProperty(ticket => ticket.Version, ticket => ticket.Version + 1)));

        PlainBrowser.Page answer = await browser.SendAsync(Path, page, "Act", "close", ("Outcome", "Fixed"));

        answer.Location.Should().EndWith("done=close");
    }

    [Theory]
    [InlineData("PumpedOut", "much", "Write a number of gallons, such as 45 or 45.5.")]
    [InlineData("PumpedOut", "-3", "Write a number of gallons, such as 45 or 45.5.")]
    [InlineData("PumpedOut", "1,200", "Write a number of gallons, such as 45 or 45.5.")]
    [InlineData("PumpedOut", "450", "The tank holds 55 gal. Is the number right?")]
    [InlineData("Dip", "half", "Write a number of gallons, such as 45 or 45.5.")]
    [InlineData("Dip", "70", "The tank is 55 gal large. Is the number right?")]
    [InlineData("Minutes", "half an hour", "Write whole minutes, 0 to 1440.")]
    [InlineData("DoneAt", "soon", "Write a date and a time, such as 2026-07-08 10:30.")]
    [InlineData("DoneAt", "2026-07-08T07:16", "This is still to come. When was the work done?")]
    [InlineData("DoneAt", "2026-07-07T05:04", "This is more than a day before the ticket was raised.")]
    [InlineData("Outcome", "", "Say how it ended.")]
    [InlineData("Outcome", "Perhaps", "Choose one of the three.")]
    public async Task A_wrong_value_says_so_beside_its_field_and_keeps_all_that_was_typed(string field, string value, string sentence)
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        Dictionary<string, string> typed = new()
        {
            ["PumpedOut"] = "45", ["Minutes"] = "35", ["Found"] = "Valve <b>stiff</b>.", ["Outcome"] = "Fixed",
            ["Steps"] = "Pump out, rinse, close the valve.", ["DoneAt"] = "2026-07-08T07:00",
        };
        typed[field] = value;

        PlainBrowser.Page answer = await browser.SendAsync(
            Path, page, "Act", "close", [.. typed.Select(pair => (pair.Key, pair.Value))]);

        answer.Status.Should().Be(HttpStatusCode.OK);
        answer.WrongBeside(field).Should().Be(sentence);
        answer.Field("PumpedOut").Should().Be(typed["PumpedOut"]);
        answer.Field("Minutes").Should().Be(typed["Minutes"]);
        answer.Field("DoneAt").Should().Be(typed["DoneAt"]);
        answer.TextArea("Found").Should().Be("Valve <b>stiff</b>.");
        answer.IsChecked("Steps", "Pump out, rinse, close the valve.").Should().BeTrue();
        answer.IsChecked("Outcome", "Fixed").Should().Be(typed["Outcome"] == "Fixed");
        (await app.TicketAsync(_number)).State.Should().Be(TicketState.New);
        (await app.VisitsAsync(_number)).Should().BeEmpty();
    }

    [Fact]
    public async Task Not_done_needs_a_reason_and_a_note_needs_something()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        (await browser.SendAsync(Path, page, "Act", "close", ("Outcome", "NotDone"))).WrongBeside("Found").Should().Be("Say in a line why it was not done.");
        (await browser.SendAsync(Path, page, "Act", "note")).WrongBeside("Found").Should().Be("Write something first.");
        (await browser.SendAsync(Path, page, "Act", "note", ("Found", new string('x', 4001)))).WrongBeside("Found").Should().Be("Shorten it by 1 characters.");
    }

    [Fact]
    public async Task The_return_key_sends_nothing()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);

        PlainBrowser.Page answer = await browser.SendAsync(Path, page, "Act", "stay", ("Outcome", "Fixed"), ("Found", "Half a word"));

        answer.TextArea("Found").Should().Be("Half a word");
        answer.Words.Should().Contain("Nothing is sent yet");
        (await app.EventsAsync(_number)).Should().ContainSingle();
    }

    [Fact]
    public async Task A_ticket_given_back_is_new_again()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync(Path);
        await browser.SendAsync(Path, page, "Act", "take");
        PlainBrowser.Page taken = await browser.GoAsync(Path);

        await browser.SendAsync(Path, taken, "Act", "release");

        Ticket ticket = await app.TicketAsync(_number);
        (ticket.State, ticket.TakenById).Should().Be((TicketState.New, null));
        (await app.EventsAsync(_number)).Select(happening => happening.Kind)
            .Should().Equal(TicketEventKind.Raised, TicketEventKind.Taken, TicketEventKind.Released);
    }

    [Fact]
    public async Task A_supervisor_reads_but_does_not_act()
    {
        await StartAsync();
        (_, PlainBrowser supervisor) = await app.AddBrowserAsync($"supervisor {_number}", FleetRoles.Supervisor);

        PlainBrowser.Page page = await supervisor.GoAsync(Path);
        PlainBrowser.Page answer = await supervisor.SendAsync(Path, page, "Act", "take");

        page.Words.Should().Contain("Pump out the tank").And.NotContain("Take it");
        answer.Words.Should().Contain("Your role only reads tickets.");
        (await app.TicketAsync(_number)).State.Should().Be(TicketState.New);
    }

    [Fact]
    public async Task A_ticket_that_does_not_exist_is_not_found()
    {
        (_, PlainBrowser browser) = await StartAsync();
        PlainBrowser.Page page = await browser.GoAsync("/tickets/999");

        page.Status.Should().Be(HttpStatusCode.NotFound);
    }

    /// <summary>A station with a ticket and a technician, all this test's own.</summary>
    private async Task<(FleetUser Person, PlainBrowser Browser)> StartAsync()
    {
        await app.AddTankTicketAsync(_number, $"ST-{_number}");
        return await app.AddBrowserAsync($"field crew {_number}", FleetRoles.Technician);
    }
}
