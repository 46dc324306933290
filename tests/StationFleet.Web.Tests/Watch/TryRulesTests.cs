using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Accounts;
using StationFleet.Web.Tests.Accounts;
using StationFleet.Web.Tests.Office;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Tests.Watch;

public sealed class TryRulesTests(FleetApp app) : IClassFixture<FleetApp>
{
    private const int Hours = 300;

    // A Wednesday, midnight at the access.
    private static readonly DateTimeOffset Day = new(2026, 6, 10, 6, 0, 0, TimeSpan.Zero);

    // Somebody is there within the hour, so that the limit of the fill alone decides.
    private static readonly RuleSettings Limits = RuleSettings.Default with { TankResponseHours = 1 };

    private static int _stations;

    [Fact]
    public async Task A_tighter_tank_limit_would_have_raised_one_ticket_earlier_and_one_more()
    {
        Station station = await AddSeasonAsync();

        TriedSeason tried = await TriedAsync(station, typed => typed.TankRaise = "70");

        tried.Headline.Should().Be(
            "With the new limits the season so far would have brought 3 tickets instead of 2: one found 5 hours earlier, one that today's limits would not have raised.");
        tried.Tried.Should().Be(
            "Tried on season 2026 so far: tank ticket from 80 to 70 %. Measurements are there only from Wed 10 Jun, 00:00 on; the trial begins then.");
        tried.Rows.Select(row => (row.What, row.Which)).Should().Equal(
            ("Tank filling", "both, 5 hours earlier with the new limits"),
            ("Tank sensor: creeping", "both, within the same hour"),
            ("Tank filling", "only with the new limits"));

        // Three low readings prove a pump-out.
        tried.Rows[0].Today.Should().Be(new TriedSeason.Side("Thu 11 Jun, 16:45", "cleared Thu 11 Jun, 20:45"));
        tried.Rows[0].New.Should().Be(new TriedSeason.Side("Thu 11 Jun, 11:45", "cleared Thu 11 Jun, 20:45"));
        tried.Rows[0].Why.Should().StartWith("The tank holds 37 of 53 gal (70 %).", "200 L are 52.8 US gal");
        tried.Rows[1].Why.Should().Contain("rises by 10 gal a day when nobody uses anything");
        tried.Rows[2].Today.Should().BeNull();
    }

    [Fact]
    public async Task A_report_is_not_seen_before_it_arrived()
    {
        Station station = await AddSeasonAsync(keptFromHour: 30, untilHour: 40.6);

        TriedSeason tried = await TriedAsync(station, typed => typed.TankRaise = "70");

        tried.Rows[0].New!.Raised.Should().Be("Thu 11 Jun, 16:36", "the readings of 11:45 arrived then");
        tried.Rows[0].Which.Should().Be("both, within the same hour");
        tried.Headline.Should().Contain("3 tickets instead of 2: one that today's limits would not have raised.");
    }

    [Fact]
    public async Task Due_soon_alone_raises_no_ticket_and_is_counted()
    {
        Station station = await AddSeasonAsync();

        TriedSeason tried = await TriedAsync(station, typed => typed.TankRaise = "95");

        tried.Headline.Should().Be("With the new limits the season so far would have brought 1 ticket instead of 2: one not raised.");
        tried.DueSoon.Should().Be("Without a ticket, something was due soon once with the new limits, once with today's.");
    }

    [Fact]
    public async Task A_trial_tells_how_far_it_is_and_can_be_stopped()
    {
        Station station = await AddSeasonAsync();
        using CancellationTokenSource stop = new();
        List<TryRules.Progress> told = [];

        Func<Task> trying = () => TryAsync(station, typed => typed.TankRaise = "70", new Teller(progress =>
        {
            told.Add(progress);
            stop.Cancel();
        }), cancel: stop.Token);

        await trying.Should().ThrowAsync<OperationCanceledException>();
        told.Should().ContainSingle().Which.Share.Should().BeInRange(0.01, 0.5);
    }

    [Fact]
    public async Task One_trial_runs_at_a_time_and_a_second_one_of_the_same_person_stops_the_first()
    {
        Station station = await AddSeasonAsync();
        TaskCompletionSource somebodyElses = new();
        Task<int> busy = app.Get<TrialDesk>().RunAsync("somebody else", async _ =>
        {
            await somebodyElses.Task;
            return 0;
        }, CancellationToken.None);

        Task<TryRules.Outcome>[] own = [TryAsync(station, typed => typed.TankRaise = "70"), TryAsync(station, typed => typed.TankRaise = "75")];
        Task<TryRules.Outcome> stopped = await Task.WhenAny(own);
        Task<TryRules.Outcome> waiting = own.Single(one => one != stopped);

        (await stopped).Should().BeOfType<TryRules.Outcome.GaveWay>();
        waiting.IsCompleted.Should().BeFalse("somebody else's trial runs");
        somebodyElses.SetResult();
        (await waiting).Should().BeOfType<TryRules.Outcome.Tried>();
        await busy;
    }

    [Fact]
    public async Task A_trial_that_breaks_says_so_and_lets_the_next_one_run()
    {
        Station station = await AddSeasonAsync();

        TryRules.Outcome broken = await TryAsync(
            station, typed => typed.TankRaise = "70", new Teller(_ => throw new InvalidOperationException("A broken outside.")));

        broken.Should().BeOfType<TryRules.Outcome.Failed>();
        (await TryAsync(station, typed => typed.TankRaise = "70")).Should().BeOfType<TryRules.Outcome.Tried>();
    }

    [Fact]
    public async Task Nothing_is_written_by_a_trial()
    {
        Station station = await AddSeasonAsync();

        await TriedAsync(station, typed => typed.TankRaise = "70");

        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        db.Tickets.Where(ticket => ticket.StationId == station.Id).Should().BeEmpty();
        db.StationRules.Single(rules => rules.StationId == station.Id).Settings.Should().Be(Limits);
        db.RuleChanges.Where(change => change.StationId == station.Id).Should().BeEmpty();
    }

    [Fact]
    public async Task Where_raw_measurements_are_purged_the_trial_begins_later_or_not_at_all()
    {
        Station station = await AddSeasonAsync();
        WatchPosition watched = WatchPosition.StartingAt(station.Id, Day.AddHours(Hours));
        watched.LastReportId = long.MaxValue;
        await app.Databases.AddAsync(watched);

        await PurgeAsync(station, Day.AddHours(100));

        (await TriedAsync(station, typed => typed.TankRaise = "70")).Should().Match<TriedSeason>(tried =>
            tried.Rows.Any(row => row.Which == "only with the new limits") && tried.Tried.EndsWith("only from Sun 14 Jun, 04:00 on; the trial begins then.", StringComparison.Ordinal));

        await PurgeAsync(station, FleetApp.Start);

        (await TryAsync(station, typed => typed.TankRaise = "70")).Should().BeOfType<TryRules.Outcome.NoMeasurements>();
    }

    [Fact]
    public async Task What_cannot_be_tried_is_told()
    {
        Station station = await app.AddStationAsync($"TRY-{Interlocked.Increment(ref _stations)}");
        await app.Databases.AddAsync(new StationRules { StationId = station.Id, Settings = Limits });

        (await TryAsync(station, _ => { })).Should().BeOfType<TryRules.Outcome.NothingChanged>();
        (await TryAsync(station, typed => typed.TankRaise = "70")).Should().BeOfType<TryRules.Outcome.NoMeasurements>();
        (await TryAsync(station, typed => typed.TankRaise = "a lot")).Should().BeOfType<TryRules.Outcome.Refused>()
            .Which.Wrong.Keys.Should().Equal(nameof(SaveRules.Command.TankRaise));
        (await TryAsync(station, typed => typed.TankRaise = "70", viewer: Viewers.Supervisor)).Should().BeOfType<TryRules.Outcome.NotAllowed>();
        (await TryAsync(station, typed => typed.TankRaise = "70", viewer: Viewers.BiologistOf(new AgencyId(99)))).Should().BeOfType<TryRules.Outcome.NotAllowed>();
    }

    [Fact]
    public async Task A_picture_shows_the_tank_with_both_limits_and_both_instants()
    {
        Station station = await AddSeasonAsync();
        TriedSeason tried = await TriedAsync(station, typed => typed.TankRaise = "70");

        string? picture = await app.Get<TrialPicture>().HandleAsync(Viewers.Biologist, tried.Rows[0].Picture, CancellationToken.None);

        picture.Should().Contain("\"xAxis\":\"2026-06-11T16:45:00\"").And.Contain("\"xAxis\":\"2026-06-11T11:45:00\"")
            .And.Contain("\"yAxis\":37").And.Contain("\"yAxis\":42.3");
        (await app.Get<TrialPicture>().HandleAsync(Viewers.BiologistOf(new AgencyId(99)), tried.Rows[0].Picture, CancellationToken.None)).Should().BeNull();
    }

    [Fact]
    public async Task Pictures_show_the_panel_by_day_how_far_away_the_station_is_and_how_far_readings_lie_behind_their_arrival()
    {
        int number = Interlocked.Increment(ref _stations);
        Station station = await app.AddStationAsync($"TRY-{number}", await app.AddAccessAsync($"try-{number}"));
        for (int hour = 0; hour < 48; hour++)
        {
            DateTimeOffset at = Day.AddHours(hour);
            await app.Get<MeasurementWriter>().WriteAsync(
                FleetBuilders.ReportReceivedAt(
                    station, at.AddMinutes(hour < 24 ? 1 : 31),
                    new Measurement(MeasurementName.SolarPower, at, hour == 20 ? 77.5 : 30),
                    new Measurement(MeasurementName.Latitude, at, hour < 24 ? 44.4 : 44.41),
                    new Measurement(MeasurementName.Longitude, at, -115.2)),
                CancellationToken.None);
        }

        (await DrawAsync(Rule.WeakPanel)).Should().Contain("77.5").And.Contain("most that the panel gave on the day");
        (await DrawAsync(Rule.Moved)).Should().Contain(",0]").And.Contain(",1112]", "a hundredth of a degree of latitude is 1.11 km").And.Contain("\"yAxis\":500");
        (await DrawAsync(Rule.ClockWrong)).Should().Contain(",1]").And.Contain(",31]");

        Task<string?> DrawAsync(Rule rule) => app.Get<TrialPicture>().HandleAsync(
            Viewers.Biologist,
            new TrialPicture.Query(station.Id, rule, "", Day.AddHours(30), null, Day.AddHours(40), Limits, Limits),
            CancellationToken.None);
    }

    // A tank of 200 L that reports every quarter of an hour and takes 2 % an hour: from hour 0 to 44 (emptied at 88 %) and from hour
    // 120 to 158 (emptied at 76 %). It is laid up afterwards. Between two hours the reports may be kept back and sent at once.
    private async Task<Station> AddSeasonAsync(double keptFromHour = 0, double untilHour = 0)
    {
        int number = Interlocked.Increment(ref _stations);
        Station station = await app.AddStationAsync($"TRY-{number}", await app.AddAccessAsync($"try-{number}"));
        await app.Databases.AddAsync(new StationTank { StationId = station.Id, From = FleetBuilders.Created, CapacityLitres = 200 });
        await app.Databases.AddAsync(new StationRules { StationId = station.Id, Settings = Limits });
        await app.Databases.AddAsync(new WinterStorage { StationId = station.Id, From = Day.AddHours(Hours) });
        List<Measurement> kept = [];
        for (double hour = 0; hour < Hours; hour += 0.25)
        {
            double filling = hour switch { <= 44 => hour, >= 120 and <= 158 => hour - 120, _ => 0 };
            kept.Add(new Measurement(MeasurementName.TankFill, Day.AddHours(hour), Math.Round(0.02 * filling, 4)));
            if (hour < keptFromHour || hour + 0.25 > untilHour)
            {
                DateTimeOffset received = Day.AddHours(hour >= keptFromHour && hour < untilHour ? untilHour : hour);
                await app.Get<MeasurementWriter>().WriteAsync(FleetBuilders.ReportReceivedAt(station, received, [.. kept]), CancellationToken.None);
                kept.Clear();
            }
        }

        return station;
    }

    private async Task PurgeAsync(Station station, DateTimeOffset upTo)
    {
        MeasurementWriter writer = app.Get<MeasurementWriter>();
        (await writer.SealAsync(station.Id, upTo, CancellationToken.None)).Should().BeTrue();
        (await writer.PurgeAsync(station.Id, CancellationToken.None)).Should().BePositive();
    }

    private async Task<TriedSeason> TriedAsync(Station station, Action<SaveRules.Command> change) =>
        (await TryAsync(station, change)).Should().BeOfType<TryRules.Outcome.Tried>().Which.Season;

    private Task<TryRules.Outcome> TryAsync(
        Station station,
        Action<SaveRules.Command> change,
        IProgress<TryRules.Progress>? progress = null,
        Viewer? viewer = null,
        CancellationToken cancel = default)
    {
        SaveRules.Command typed = SaveRules.Command.Of(station.Id, Limits);
        change(typed);
        return app.Get<TryRules>().HandleAsync(viewer ?? Viewers.Biologist, new TryRules.Query(typed, 2026), progress ?? new Teller(_ => { }), cancel);
    }

    private sealed class Teller(Action<TryRules.Progress> onTold) : IProgress<TryRules.Progress>
    {
        public void Report(TryRules.Progress value) => onTold(value);
    }
}
