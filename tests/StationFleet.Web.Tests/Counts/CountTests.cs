using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Seasons;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Counts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Tests.Counts;

/// <summary>Count shifts as a steward and a supervisor meet them, by browsers without script.</summary>
public sealed class CountTests : IAsyncLifetime, IDisposable
{
    private readonly FleetApp _app = new();
    private Station _station = null!;

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        _station = await _app.Databases.AddStationAsync("COP-1");
        await _app.Databases.AddPlacementAsync(_station, await _app.Databases.AddAccessAsync());
        await _app.Databases.AddToolAsync(_station, "vacuum");
        await _app.Databases.AddToolAsync(_station, "brush", Domain.Fleet.ToolKind.Brush);
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task A_stewards_count_is_stored_once_and_its_hours_are_booked_once()
    {
        using PlainBrowser steward = (await _app.AddBrowserAsync("Ann", FleetRoles.Steward)).Browser;
        (await steward.GoAsync("/")).Location.Should().EndWith("/count");
        (await steward.GoAsync("/count")).Html.Should().Contain("href=\"/count/COP-1\"").And.NotContain("blazor.web.js");
        PlainBrowser.Page form = await steward.GoAsync("/count/COP-1");

        PlainBrowser.Page stored = await steward.SendAsync("/count/COP-1", form, "Act", "count", Count("2026-07-04T08:00", "2026-07-04T12:00", "42", "12", "21", "9"));
        PlainBrowser.Page again = await steward.SendAsync("/count/COP-1", form, "Act", "count", Count("2026-07-04T08:00", "2026-07-04T12:00", "42", "12", "21", "9"));

        stored.Location.Should().EndWith("/count/COP-1?done=1");
        again.Location.Should().Be(stored.Location, "the same form twice is one shift");
        CountShiftRow shift = (await ShiftsAsync()).Should().ContainSingle().Which;
        (shift.BoatsLeaving, shift.BoatsAtStation, shift.Counter, shift.From).Should().Be((42, 12, "Ann", new DateTimeOffset(2026, 7, 4, 14, 0, 0, TimeSpan.Zero)));
        (await UsesAsync()).Should().Equal(("brush", 9), ("vacuum", 21));
        PlainBrowser.Page done = await steward.GoAsync("/count/COP-1?done=1");
        done.Words.Should().Contain("Thank you: it is counted.").And.Contain("42 boats leaving, 12 at the station, 30 tool uses").And.Contain("Book these hours");

        PlainBrowser.Page time = await steward.GoAsync("/time?shift=1");
        (time.Field("Minutes"), time.Field("From"), time.Field("Day"), time.Field("Activity")).Should().Be(("240", "08:00", "2026-07-04", "Counted boats at dam-road"));
        time.IsChecked("Kind", "Volunteer").Should().BeTrue();
        (string, string)[] hours = [("Activity", time.Field("Activity")), ("Day", "2026-07-04"), ("From", "08:00"), ("Minutes", "240"), ("Station", "COP-1"), ("Award", ""), ("Kind", "Volunteer")];
        (await steward.SendAsync("/time", time, "Act", "book", hours)).Location.Should().EndWith("?done=booked");
        await steward.SendAsync("/time", time, "Act", "book", hours);

        TimeEntry entry = (await _app.Databases.CreateDbContext().TimeEntries.ToListAsync()).Should().ContainSingle().Which;
        (entry.Person, entry.Kind, entry.Minutes, entry.StationId).Should().Be(("Ann", TimeKind.Volunteer, 240, _station.Id));
        (await steward.GoAsync("/count")).Words.Should().NotContain("Book these hours");
    }

    [Fact]
    public async Task The_phones_own_spans_give_the_times_when_nobody_wrote_any()
    {
        using PlainBrowser steward = (await _app.AddBrowserAsync("Ann", FleetRoles.Steward)).Browser;

        await steward.SendAsync(
            "/count/COP-1", await steward.GoAsync("/count/COP-1"), "Act", "count",
            [.. Count("", "", "5", "2", "", ""), ("CountedSeconds", "5400"), ("KeptSeconds", "1800")]);

        CountShiftRow shift = (await ShiftsAsync()).Single();
        (shift.From, shift.To).Should().Be((FleetApp.Start.AddHours(-2), FleetApp.Start.AddMinutes(-30)));
        (await UsesAsync()).Should().BeEmpty("all tools were left empty: nobody watched them");
    }

    [Fact]
    public async Task What_cannot_be_is_told_beside_its_field_and_nothing_is_stored()
    {
        using PlainBrowser steward = (await _app.AddBrowserAsync("Ann", FleetRoles.Steward)).Browser;
        (string, string, string, string, string, string, string Field, string Says)[] wrong =
        [
            ("", "", "5", "2", "", "", "From", "Write when you began to count."),
            ("2026-07-04T08:00", "2026-07-04T07:00", "5", "2", "", "", "To", "The counting ended before it began: look at both times."),
            ("2026-07-04T08:00", "2026-07-09T07:00", "5", "2", "", "", "To", "This is still to come. When did you stop?"),
            ("2026-07-03T08:00", "2026-07-04T08:00", "5", "2", "", "", "From", "A shift lasts at most 16 hours: look at both times."),
            ("2025-03-01T08:00", "2025-03-01T12:00", "5", "2", "", "", "From", "The station stood at no access then."),
            ("2026-07-04T08:00", "2026-07-04T12:00", "some", "2", "", "", "BoatsLeaving", "Write a whole number from 0 to 2000."),
            ("2026-07-04T08:00", "2026-07-04T12:00", "5", "6", "", "", "BoatsAtStation", "More boats used the station than left (5). Count boats that leave; of these, those that used the station."),
            ("2026-07-04T08:00", "2026-07-04T12:00", "5", "0", "3", "", "BoatsAtStation", "Tools were used: how many boats used the station?"),
            ("2026-07-04T08:00", "2026-07-04T12:00", "5", "1", "-3", "", "Tool-vacuum", "Write a whole number from 0 to 5000."),
        ];
        foreach ((string from, string to, string leaving, string at, string vacuum, string brush, string field, string says) in wrong)
        {
            PlainBrowser.Page page = await steward.SendAsync("/count/COP-1", await steward.GoAsync("/count/COP-1"), "Act", "count", Count(from, to, leaving, at, vacuum, brush));

            page.WrongBeside(field).Should().Be(says);
            page.Field("BoatsLeaving").Should().Be(leaving, "what was typed stays");
        }

        (await ShiftsAsync()).Should().BeEmpty();
    }

    [Fact]
    public async Task A_second_count_of_the_same_hours_by_the_same_person_is_refused_and_another_persons_is_not()
    {
        using PlainBrowser ann = (await _app.AddBrowserAsync("Ann", FleetRoles.Steward)).Browser;
        using PlainBrowser ben = (await _app.AddBrowserAsync("Ben", FleetRoles.Technician)).Browser;
        await CountAsync(ann, "2026-07-04T08:00", "2026-07-04T12:00", "42", "12");

        PlainBrowser.Page twice = await CountAsync(ann, "2026-07-04T11:00", "2026-07-04T13:00", "9", "2");
        await CountAsync(ben, "2026-07-04T11:00", "2026-07-04T13:00", "9", "2");

        twice.WrongBeside("From").Should().Be("Sat 4 Jul 2026, 08:00 to 12:00 is counted already, with 42 boats leaving. Correct that shift instead.");
        (await ShiftsAsync()).Select(shift => shift.Counter).Should().Equal("Ann", "Ben");
    }

    [Fact]
    public async Task A_correction_keeps_what_was_there_and_only_the_one_who_counted_or_keeps_counts_makes_it()
    {
        using PlainBrowser ann = (await _app.AddBrowserAsync("Ann", FleetRoles.Steward)).Browser;
        using PlainBrowser eve = (await _app.AddBrowserAsync("Eve", FleetRoles.Steward)).Browser;
        using PlainBrowser supervisor = (await _app.AddBrowserAsync("Supervisor", FleetRoles.Supervisor)).Browser;
        await CountAsync(ann, "2026-07-04T08:00", "2026-07-04T12:00", "42", "12");
        (await eve.GoAsync("/count/shifts/1")).Status.Should().Be(HttpStatusCode.NotFound, "a steward sees own shifts only");
        PlainBrowser.Page old = await supervisor.GoAsync("/count/shifts/1");

        await ann.SendAsync("/count/shifts/1", await ann.GoAsync("/count/shifts/1"), "Act", "correct", Count("2026-07-04T08:00", "2026-07-04T12:00", "45", "12", "20", "0"));
        PlainBrowser.Page late = await supervisor.SendAsync("/count/shifts/1", old, "Act", "strike");

        late.Words.Should().Contain("Somebody corrected it meanwhile.");
        PlainBrowser.Page now = await supervisor.GoAsync("/count/shifts/1");
        now.Words.Should().Contain("45 boats leaving, 12 at the station, 20 tool uses").And.Contain("Boats leaving: 45, was 42.").And.Contain("Uses of vacuum: 20, was not watched.");
        await supervisor.SendAsync("/count/shifts/1", now, "Act", "strike");
        (await ShiftsAsync()).Single().IsStruck.Should().BeTrue();
        (await _app.Databases.CreateDbContext().CountShiftEvents.Select(row => row.Who).ToListAsync()).Should().Equal("Ann", "Supervisor");
        (await supervisor.GoAsync("/counts")).Words.Should().Contain("Nobody has counted boats yet.").And.Contain("taken back");
    }

    [Fact]
    public async Task Counts_page_season_and_files_say_what_hand_queries_on_the_database_say()
    {
        using PlainBrowser ann = (await _app.AddBrowserAsync("Ann", FleetRoles.Steward)).Browser;
        using PlainBrowser supervisor = (await _app.AddBrowserAsync("Supervisor", FleetRoles.Supervisor)).Browser;
        await CountAsync(ann, "2026-07-04T08:00", "2026-07-04T12:00", "40", "12", "21", "9");
        await CountAsync(ann, "2026-07-05T08:00", "2026-07-05T12:00", "30", "8", "15", "5");
        await CountAsync(ann, "2026-06-27T08:00", "2026-06-27T12:00", "50", "16", "30", "12");
        await CountAsync(ann, "2025-07-05T08:00", "2025-07-05T12:00", "99", "1", "1", "0");

        // One kind of hours (weekend mornings), so weights cancel: the share is that of the sums.
        await using FleetDbContext db = _app.Databases.CreateDbContext();
        double share = await db.Database.SqlQuery<double>(
            $"SELECT 1.0 * sum(boats_at_station) / sum(boats_leaving) AS Value FROM count_shifts WHERE \"from\" >= 1777593600000").SingleAsync();
        double perBoat = await db.Database.SqlQuery<double>(
            $"SELECT 1.0 * (SELECT sum(uses) FROM counted_tool_uses WHERE shift_id < 4) / sum(boats_at_station) AS Value FROM count_shifts WHERE id < 4").SingleAsync();
        (share, perBoat).Should().Be((36 / 120.0, 92 / 36.0));

        PlainBrowser.Page counts = await supervisor.GoAsync("/counts");
        counts.Words.Should().Contain("About 30 % of the leaving boats used a station (").And.Contain("no shift on weekday mornings (")
            .And.Contain(perBoat.ToString("0.00", CultureInfo.InvariantCulture));
        PlainBrowser.Page season = await supervisor.GoAsync("/season?year=2026");
        season.Words.Should().Contain("30 % (").And.Contain("The share says nothing of these.");
        string[][] csv = [.. (await supervisor.GoAsync("/season/summary.csv?year=2026&station=COP-1")).Html.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Select(row => Regex.Replace(row, "\"[^\"]*\"", "words").Split(','))];
        Named("share_of_leaving_boats").Should().BeApproximately(share, 1e-9);
        Named("uses_per_boat").Should().BeApproximately(perBoat, 1e-6);
        Named("count_shifts").Should().Be(3);
        Named("share_of_leaving_boats_low").Should().BeLessThan(share);
        SeasonDefinitions.All.Should().Contain(BoatDefinitions.All);
        (await supervisor.GoAsync("/season/narrative.txt?year=2026")).Html.Should().Contain("Three count shifts of 12 hours. About 30 % of the leaving boats used a station (");

        double Named(string key) => double.Parse(csv[1][Array.IndexOf(csv[0], key)], CultureInfo.InvariantCulture);
    }

    private static (string Name, string Value)[] Count(string from, string to, string leaving, string at, string vacuum, string brush) =>
        [("From", from), ("To", to), ("BoatsLeaving", leaving), ("BoatsAtStation", at), ("Tool-vacuum", vacuum), ("Tool-brush", brush), ("Note", "")];

    private static async Task<PlainBrowser.Page> CountAsync(PlainBrowser who, string from, string to, string leaving, string at, string vacuum = "", string brush = "") =>
        await who.SendAsync("/count/COP-1", await who.GoAsync("/count/COP-1"), "Act", "count", Count(from, to, leaving, at, vacuum, brush));

    private async Task<List<CountShiftRow>> ShiftsAsync()
    {
        await using FleetDbContext db = await _app.Databases.CreateDbContextAsync();
        return await db.CountShifts.AsNoTracking().OrderBy(shift => shift.Id).ToListAsync();
    }

    private async Task<IEnumerable<(string, int)>> UsesAsync()
    {
        await using FleetDbContext db = await _app.Databases.CreateDbContextAsync();
        return (await db.CountedToolUses.AsNoTracking().OrderBy(row => row.Tool).ToListAsync()).Select(row => (row.Tool, row.Uses));
    }
}
