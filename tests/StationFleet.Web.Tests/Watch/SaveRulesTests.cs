using System.Text.Json;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Office;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Tests.Watch;

public sealed class SaveRulesTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static int _stations;

    [Fact]
    public async Task New_limits_are_kept_with_who_changed_them_when_why_and_to_what()
    {
        StationId station = await AddStationAsync();
        SaveRules.Command typed = SaveRules.Command.Of(station, RuleSettings.Default);
        (typed.TankSoonDays, typed.IdleFalseAlarms, typed.Reason) = ("5", "0.1", "The hauler needs three days.");

        (await SaveAsync(typed)).Should().BeOfType<SaveRules.Outcome.Saved>();

        RuleSettings expected = RuleSettings.Default with { TankSoonDays = 5, IdleFalseAlarms = 0.1 };
        (await app.FindAsync<StationRules>(row => row.StationId == station)).Settings.Should().Be(expected);
        RuleChange change = await app.FindAsync<RuleChange>(row => row.StationId == station);
        change.Should().BeEquivalentTo(new { At = FleetApp.Start, Who = "Biologist", Reason = "The hauler needs three days." });
        JsonSerializer.Deserialize<RuleSettings>(change.Settings).Should().Be(expected);
    }

    [Fact]
    public async Task The_history_tells_what_each_change_changed_newest_first()
    {
        StationId station = await AddStationAsync();
        SaveRules.Command typed = SaveRules.Command.Of(station, RuleSettings.Default);
        (typed.SilentAfterHours, typed.Reason) = ("6", "Weak signal in the canyon.");
        await SaveAsync(typed);
        (typed.SilentAfterHours, typed.ChargeSoon, typed.Reason) = ("4", "65", "A new antenna.");
        await SaveAsync(typed);

        ReadRules.View view = await app.Get<ReadRules>().HandleAsync(Viewers.Supervisor, CancellationToken.None);

        string code = view.Stations.Single(row => row.Id == station).Code;
        view.MayChange.Should().BeFalse();
        view.History.Where(change => change.Code == code).Select(change => string.Join("; ", change.Changed)).Should().Equal(
            "charge due soon from 60 to 65 %; silent after from 6 to 4 hours",
            "silent after from 3 to 6 hours");
    }

    [Theory]
    [InlineData("1", "80", "60", "50", nameof(SaveRules.Command.TankSoonDays))]
    [InlineData("3", "101", "60", "50", nameof(SaveRules.Command.TankRaise))]
    [InlineData("3", "80", "50", "50", nameof(SaveRules.Command.ChargeSoon))]
    [InlineData("3", "80", "60", "0", nameof(SaveRules.Command.ChargeRaise))]
    [InlineData("3", "80", "x", "50", nameof(SaveRules.Command.ChargeSoon))]
    public async Task Due_soon_must_come_before_the_ticket_and_shares_are_shares(
        string tankSoonDays, string tankRaise, string chargeSoon, string chargeRaise, string field)
    {
        SaveRules.Command typed = SaveRules.Command.Of(await AddStationAsync(), RuleSettings.Default);
        (typed.TankSoonDays, typed.TankRaise, typed.ChargeSoon, typed.ChargeRaise, typed.Reason) = (tankSoonDays, tankRaise, chargeSoon, chargeRaise, "A try.");

        (await SaveAsync(typed)).Should().BeOfType<SaveRules.Outcome.Refused>().Which.Wrong.Keys.Should().Equal(field);
    }

    [Fact]
    public async Task A_reason_and_a_sensible_budget_are_asked_for()
    {
        SaveRules.Command typed = SaveRules.Command.Of(await AddStationAsync(), RuleSettings.Default);
        typed.IdleFalseAlarms = "3";

        (await SaveAsync(typed)).Should().BeOfType<SaveRules.Outcome.Refused>().Which.Wrong.Should().BeEquivalentTo(new Dictionary<string, string>
        {
            [nameof(SaveRules.Command.IdleFalseAlarms)] = "Write a number from 0.01 to 2 a season.",
            [nameof(SaveRules.Command.Reason)] = "Write why, for whoever wonders later.",
        });
    }

    [Fact]
    public async Task Unchanged_limits_leave_no_trace_and_technicians_change_none()
    {
        StationId station = await AddStationAsync();
        SaveRules.Command typed = SaveRules.Command.Of(station, RuleSettings.Default);
        typed.Reason = "Nothing.";

        (await SaveAsync(typed)).Should().BeOfType<SaveRules.Outcome.NothingChanged>();
        typed.SilentAfterHours = "5";
        (await SaveAsync(typed, Viewers.Technician)).Should().BeOfType<SaveRules.Outcome.NotAllowed>();
        (await app.Get<ReadRules>().HandleAsync(Viewers.Biologist, CancellationToken.None)).Stations
            .Single(row => row.Id == station).Settings.Should().Be(RuleSettings.Default);
    }

    private async Task<StationId> AddStationAsync()
    {
        Station station = await app.AddStationAsync($"RULE-{Interlocked.Increment(ref _stations)}");
        return station.Id;
    }

    private Task<SaveRules.Outcome> SaveAsync(SaveRules.Command typed, Viewer? viewer = null) =>
        app.Get<SaveRules>().HandleAsync(viewer ?? Viewers.Biologist, typed, CancellationToken.None);
}
