using System.Net;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Telemetry;
using StationFleet.Web.Watch;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Telemetry;

/// <summary>Records set aside, through the handlers of the page Set aside and the page itself; they come in by HTTP.</summary>
public sealed class SetAsidePageTests(FleetApp app) : IntakeTest(app)
{
    private readonly CancellationToken _cancel = CancellationToken.None;

    [Fact]
    public async Task The_page_says_how_many_wait_and_shows_each_with_its_reason_and_text()
    {
        using HttpResponseMessage first = await PostAsync($$"""[{"bt":{{Now}},"n":"tank/fill","u":"m","v":0.9},{"n":"label","vs":"Dam Road"}]""");
        using HttpResponseMessage again = await PostAsync($$"""[{"bt":{{Now}},"n":"tank/fill","u":"m","v":0.9}]""");
        (_, PlainBrowser browser) = await App.AddBrowserAsync($"biologist {Station.Code}", FleetRoles.Biologist);

        PlainBrowser.Page page = await browser.GoAsync($"/office/set-aside?Station={Station.Code}");

        page.Words.Should().Contain($"Two records of {Station.Code} wait for a decision.")
            .And.Contain("The unit 'm' does not fit tank/fill")
            .And.Contain("""{"n":"label","t":1783515900,"vs":"Dam Road"}""");
        ReadSetAside.View view = (await App.Get<ReadSetAside>().HandleAsync(Viewers.Biologist, _cancel))!;
        ReadSetAside.Group unit = view.Groups.Single(group => group.Station == Station.Code && group.Kind == SetAsideKind.Unit);
        (unit.Count, unit.Newest.Single().Times).Should().Be((1, 2));
        PlainBrowser.Page office = await browser.GoAsync("/office");
        office.Words.Should().Contain("for a decision.");
        (await browser.GoAsync($"/stations/{Station.Code}")).Words.Should().Contain("Two records set aside");
    }

    [Fact]
    public async Task Times_before_the_station_existed_count_once_its_settings_are_corrected()
    {
        DateTimeOffset old = Station.Created.AddDays(-3);
        using HttpResponseMessage early = await PostAsync(
            $$"""[{"bt":{{old.ToUnixTimeSeconds()}},"n":"tank/fill","u":"/","v":0.31},{"n":"battery/voltage","u":"V","v":12.5},{"n":"label","vs":"x"}]""");
        early.StatusCode.Should().Be(HttpStatusCode.UnprocessableEntity);

        RetrySetAside.Outcome.Done before = await RetryAsync(new SetAsideSelection(Station.Code, SetAsideKind.BeforeStation));
        await CorrectAsync(station => station.Created = old.AddDays(-1));
        RetrySetAside.Outcome.Done after = await RetryAsync(new SetAsideSelection(Station.Code));

        (before.Accepted, before.StillAside.Sum(still => still.Count)).Should().Be((0, 2));
        (after.Accepted, after.Repeated).Should().Be((2, 0));
        after.StillAside.Should().ContainSingle().Which.Should().Be(("Only numbers and booleans are stored; this record holds text or data.", 1));
        (await App.Get<MeasurementReader>().RangeAsync(Station.Id, ["tank/fill"], old.AddDays(-1), old.AddDays(1), _cancel))
            .Should().Equal(new Measurement("tank/fill", old, 0.31));
        SetAsideTexts.Said(after).Should().Be(
            "Two are taken now. One stays set aside: Only numbers and booleans are stored; this record holds text or data.");
        using HttpResponseMessage sentAgain = await PostAsync($$"""[{"bt":{{old.ToUnixTimeSeconds()}},"n":"tank/fill","u":"/","v":0.31}]""");
        App.Get<StationKeys>().Forget();
        (await (await PostAsync($$"""[{"bt":{{old.ToUnixTimeSeconds()}},"n":"tank/fill","u":"/","v":0.31}]""")).Content.ReadAsStringAsync())
            .Should().Be("""{"accepted":0,"repeated":1,"setAside":[]}""", "a retry stores what the report would have");
    }

    [Fact]
    public async Task Relative_times_of_a_controller_without_a_clock_count_from_their_arrival_when_it_is_marked_so()
    {
        DateTimeOffset arrival = App.Clock.GetUtcNow();
        using HttpResponseMessage relative = await PostAsync("""[{"n":"tank/fill","t":-60,"u":"/","v":0.77}]""");
        SetAsideRow row = (await RowsAsync()).Should().ContainSingle().Subject;
        row.Kind.Should().Be(SetAsideKind.RelativeTime);
        App.Clock.Advance(TimeSpan.FromHours(5));
        await CorrectAsync(station => station.HasNoClock = true);

        RetrySetAside.Outcome.Done done = await RetryAsync(new SetAsideSelection(Station.Code, null, row.Id));

        done.Accepted.Should().Be(1);
        (await StoredAsync("tank/fill")).Should().Contain(new Measurement("tank/fill", arrival.AddSeconds(-60), 0.77));
        (await RowsAsync()).Should().BeEmpty();
    }

    [Fact]
    public async Task A_fast_clock_stays_set_aside_even_when_the_time_has_come()
    {
        using HttpResponseMessage fast = await PostAsync($$"""[{"n":"tank/fill","t":{{App.Clock.GetUtcNow().AddHours(1).ToUnixTimeSeconds()}},"u":"/","v":0.77}]""");
        App.Clock.Advance(TimeSpan.FromHours(2));

        RetrySetAside.Outcome.Done done = await RetryAsync(new SetAsideSelection(null, SetAsideKind.FastClock));

        done.StillAside.Sum(still => still.Count).Should().BeGreaterThanOrEqualTo(1);
        (await RowsAsync()).Should().ContainSingle("it was not measured at that time").Which.Kind.Should().Be(SetAsideKind.FastClock);
        (await App.Get<MeasurementReader>().NewReportsAsync(Station.Id, 0, 10, _cancel)).First(report => report.ClockOff is not null)
            .ClockOff.Should().BeCloseTo(TimeSpan.FromHours(1), TimeSpan.FromSeconds(1));
    }

    [Fact]
    public async Task The_watch_tells_a_fast_clock_and_takes_a_retry_for_no_sign_of_life()
    {
        async Task<ProblemRow?> ProblemAsync()
        {
            await App.Get<RunWatch>().HandleAsync(_cancel);
            await using FleetDbContext db = await App.Databases.CreateDbContextAsync(_cancel);
            return await db.Problems.AsNoTracking().SingleOrDefaultAsync(problem => problem.StationId == Station.Id && problem.Rule == Rule.ClockWrong, _cancel);
        }

        await App.Databases.AddPlacementAsync(Station, await App.Databases.AddAccessAsync("ferry-cove"));
        for (int i = 0; i < 3; i++)
        {
            App.Clock.Advance(TimeSpan.FromMinutes(15));
            using HttpResponseMessage fast = await PostAsync(
                $$"""[{"n":"tank/fill","t":{{App.Clock.GetUtcNow().AddHours(2).ToUnixTimeSeconds()}},"u":"/","v":0.3}]""");
        }

        App.Clock.Advance(TimeSpan.FromMinutes(5));
        ProblemRow? told = await ProblemAsync();
        await RetryAsync(new SetAsideSelection(Station.Code));
        App.Clock.Advance(TimeSpan.FromMinutes(5));
        ProblemRow? afterRetry = await ProblemAsync();

        WatchJson.Read<Evidence>(told!.Evidence).Should().BeOfType<ClockWrongEvidence>().Which.AheadSeconds.Should().BeApproximately(7200, 1);
        WatchJson.Read<Evidence>(afterRetry!.Evidence).Should().Be(WatchJson.Read<Evidence>(told.Evidence), "the station said nothing new");
    }

    [Fact]
    public async Task Discarded_records_are_gone_until_the_station_sends_them_again()
    {
        string pack = $$"""[{"n":"label","t":{{Now}},"vs":"x"},{"n":"tank/fill","t":{{Now}},"u":"m","v":1}]""";
        using HttpResponseMessage first = await PostAsync(pack);

        DiscardSetAside.Outcome outcome = await DiscardAsync(Viewers.Biologist, new SetAsideSelection(Station.Code, SetAsideKind.NoNumber));

        outcome.Should().Be(new DiscardSetAside.Outcome.Discarded(1));
        (await RowsAsync()).Should().ContainSingle().Which.Kind.Should().Be(SetAsideKind.Unit);
        using HttpResponseMessage again = await PostAsync(pack);
        (await RowsAsync()).Should().HaveCount(2);
    }

    [Fact]
    public async Task Only_those_who_may_change_the_fleet_decide_and_only_about_their_stations()
    {
        using HttpResponseMessage first = await PostAsync($$"""[{"n":"label","t":{{Now}},"vs":"x"}]""");
        Agency other = await App.Databases.AddAgencyAsync("Sorrel County Parks");
        RetrySetAside retry = App.Get<RetrySetAside>();

        (await retry.HandleAsync(Viewers.Supervisor, new SetAsideSelection(), _cancel)).Should().BeOfType<RetrySetAside.Outcome.NotAllowed>();
        (await DiscardAsync(Viewers.Technician, new SetAsideSelection())).Should().BeOfType<DiscardSetAside.Outcome.NotAllowed>();
        (await DiscardAsync(Viewers.BiologistOf(other.Id), new SetAsideSelection(Station.Code))).Should().Be(new DiscardSetAside.Outcome.Discarded(0));
        (await App.Get<ReadSetAside>().HandleAsync(Viewers.Technician, _cancel)).Should().BeNull();
        (await App.Get<ReadSetAside>().CountAsync(Viewers.BiologistOf(other.Id), null, _cancel)).Should().Be(0);
        (await RowsAsync()).Should().ContainSingle();
    }

    private async Task<RetrySetAside.Outcome.Done> RetryAsync(SetAsideSelection selection) =>
        (await App.Get<RetrySetAside>().HandleAsync(Viewers.Biologist, selection, _cancel)).Should().BeOfType<RetrySetAside.Outcome.Done>().Subject;

    private Task<DiscardSetAside.Outcome> DiscardAsync(Viewer viewer, SetAsideSelection selection) =>
        App.Get<DiscardSetAside>().HandleAsync(viewer, selection, _cancel);

    private Task<IReadOnlyList<SetAsideRow>> RowsAsync() => App.Get<SetAsideReader>().ListAsync(new SetAsideChoice([Station.Id]), 100, _cancel);

    private Task CorrectAsync(Action<Station> correct) => App.Databases.WriteAsync(
        async db => correct((await db.Stations.FindAsync([Station.Id], _cancel))!), _cancel);
}
