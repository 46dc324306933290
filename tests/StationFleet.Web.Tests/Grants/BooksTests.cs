using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Grants;

namespace StationFleet.Web.Tests.Grants;

public sealed class BooksTests : IAsyncLifetime, IDisposable
{
    private readonly FleetApp _app = new();

    public Task InitializeAsync() => _app.InitializeAsync();

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task Hours_are_booked_once_checked_against_the_day_and_taken_back_by_a_reversal()
    {
        await _app.AddAwardAsync("JBWD-2026-02");
        await _app.AddAwardAsync("JBWD-2025-01");
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("supervisor", FleetRoles.Supervisor);
        using PlainBrowser supervisor = browser;
        PlainBrowser.Page page = await supervisor.GoAsync("/time");
        page.Html.Should().NotContain("blazor.web.js");
        (string, string)[] entry = Entry("08:00", "90", "JBWD-2026-02", "Volunteer");

        (await supervisor.SendAsync("/time", page, "Act", "book", entry)).Location.Should().EndWith("/time?done=booked");
        await supervisor.SendAsync("/time", page, "Act", "book", entry);
        PlainBrowser.Page overlap = await supervisor.SendAsync("/time", await supervisor.GoAsync("/time"), "Act", "book", Entry("09:00", "60", "JBWD-2025-01", "Paid"));
        overlap.WrongBeside("Minutes").Should().Be("08:00 to 09:30 of that day is booked already on JBWD-2026-02: the same minutes cannot be charged twice.");
        PlainBrowser.Page outside = await supervisor.SendAsync("/time", await supervisor.GoAsync("/time"), "Act", "book", [.. Entry("12:00", "60", "JBWD-2026-02", "Paid").Where(field => field.Name != "Day"), ("Day", "2025-12-31")]);
        outside.WrongBeside("Day").Should().Be("JBWD-2026-02 runs from 1 Jan 2026 to 30 Jun 2027: this day lies outside.");

        (await EntriesAsync()).Should().ContainSingle().Which.Worth.Should().Be(Money.Of(45));
        (await MatchAsync()).Should().Be(Money.Of(45));
        PlainBrowser.Page list = await supervisor.GoAsync("/time");
        list.Words.Should().Contain("1.5 hours are booked in July.");
        (await supervisor.SendAsync("/time", list, "Act", "reverse-1")).Location.Should().EndWith("/time?done=reversed");
        (await supervisor.SendAsync("/time", list, "Act", "reverse-1")).Words.Should().Contain("It was taken back already");
        (await supervisor.SendAsync("/time", list, "Act", "reverse-2")).Words.Should().Contain("It was taken back already");

        (await MatchAsync()).Should().Be(default(Money));
        (await EntriesAsync()).Select(row => (row.Minutes, row.ReversesId)).Should().Equal((90, null), (-90, 1));
        await supervisor.SendAsync("/time", await supervisor.GoAsync("/time"), "Act", "book", Entry("09:00", "60", "JBWD-2025-01", "Paid"));
        (await EntriesAsync()).Should().HaveCount(3, "the minutes are free again");
    }

    [Fact]
    public async Task A_technician_books_own_hours_only_and_no_costs()
    {
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        using PlainBrowser crew = browser;

        await crew.SendAsync("/time", await crew.GoAsync("/time"), "Act", "book", [.. Entry("08:00", "30", "", "Paid").Where(field => field.Name != "Person"), ("Person", "somebody else")]);
        await crew.SendAsync("/time/cost", await crew.GoAsync("/time/cost"), "Act", "book", ("What", "Boat"), ("Amount", "1"), ("Day", "2026-07-07"), ("Kind", "Paid"));

        (await EntriesAsync()).Should().ContainSingle().Which.Should().BeEquivalentTo(new { Person = "field crew", RatePerHour = default(Money) });
        (await _app.Databases.CreateDbContext().CostEntries.CountAsync()).Should().Be(0);
    }

    [Fact]
    public async Task A_cost_is_booked_and_reversed()
    {
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("supervisor", FleetRoles.Supervisor);
        using PlainBrowser supervisor = browser;
        (string, string)[] cost = [("What", "Hose"), ("Amount", "89.90"), ("Day", "2026-07-07"), ("Kind", "Match")];

        await supervisor.SendAsync("/time/cost", await supervisor.GoAsync("/time/cost"), "Act", "book", cost);
        PlainBrowser.Page page = await supervisor.GoAsync("/time/cost");
        page.Words.Should().Contain("$89.90 is booked in July.");
        await supervisor.SendAsync("/time/cost", page, "Act", "reverse-1");

        (await supervisor.GoAsync("/time/cost")).Words.Should().Contain("$0 is booked in July.").And.Contain("−$89.90 (takes an entry back)");
    }

    private static (string Name, string Value)[] Entry(string from, string minutes, string award, string kind) =>
    [
        ("Person", "A. Volunteer"), ("Activity", "Ramp watch"), ("Day", "2026-07-07"), ("From", from), ("Minutes", minutes), ("Rate", "30"),
        ("Award", award), ("Station", ""), ("Kind", kind),
    ];

    private async Task<List<TimeEntry>> EntriesAsync()
    {
        await using FleetDbContext db = await _app.Databases.CreateDbContextAsync();
        return await db.TimeEntries.OrderBy(entry => entry.Id).ToListAsync();
    }

    private async Task<Money> MatchAsync()
    {
        await using FleetDbContext db = await _app.Databases.CreateDbContextAsync();
        return await BookedMatch.OfAsync(db, (await db.Awards.SingleAsync(award => award.Number == "JBWD-2026-02")).Id, CancellationToken.None);
    }
}
