using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;
using StationFleet.Reports.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Platform.Demo;
using StationFleet.Web.Sampling;
using StationFleet.Web.Seasons;
using StationFleet.Web.Service.Visits;
using StationFleet.Web.Tests.Sampling;

namespace StationFleet.Web.Tests.Platform;

[Collection(DemoApp.Collection)]
public sealed class DemoTests(DemoApp app)
{
    [Fact]
    public async Task The_morning_begins_with_two_stations_that_need_a_visit_and_one_that_is_due_soon()
    {
        await using FleetDbContext db = await app.DatabaseAsync();
        Dictionary<StationId, string> codes = await db.Stations.ToDictionaryAsync(station => station.Id, station => station.Code);
        List<Ticket> open = await db.Tickets.Where(ticket => ticket.State != TicketState.Closed && ticket.Closed == null).ToListAsync();
        var soon = await db.Problems.Where(problem => problem.Urgency == Urgency.DueSoon).ToListAsync();

        open.Select(ticket => (codes[ticket.StationId], ticket.Rule, ticket.State)).Should().BeEquivalentTo(new[]
        {
            ("COP-1", Rule.IdleTool, TicketState.Taken),
            ("COP-1", Rule.TankFilling, TicketState.New),
            ("OTT-1", Rule.LowCharge, TicketState.Taken),
            ("OTT-1", Rule.NewFind, TicketState.New),
        });
        soon.Select(problem => (codes[problem.StationId], problem.Rule)).Should().Equal(("SOR-1", Rule.TankFilling));
    }

    [Fact]
    public async Task Each_open_ticket_has_been_told_first_to_the_technician_on_duty_and_once_to_each_person()
    {
        await using FleetDbContext db = await app.DatabaseAsync();
        List<TicketCall> calls = await db.TicketCalls.ToListAsync();
        string technician = await db.DutyHours.Select(hours => hours.PersonId).SingleAsync();

        TicketId find = await db.Tickets.Where(ticket => ticket.Rule == Rule.NewFind).Select(ticket => ticket.Id).SingleAsync();

        calls.Where(call => call.TicketId != find).GroupBy(call => call.TicketId).Should().HaveCount(3)
            .And.OnlyContain(ticket => ticket.OrderBy(call => call.At).First().PersonId == technician);
        calls.Where(call => call.TicketId == find).Should().NotBeEmpty().And.NotContain(call => call.PersonId == technician, "a find is for the biologist to verify");
        calls.Select(call => (call.EventId, call.PersonId)).Should().OnlyHaveUniqueItems();
    }

    [Fact]
    public async Task Copperline_has_hundreds_of_veligers_and_the_other_waters_have_none()
    {
        await using FleetDbContext db = await app.DatabaseAsync();
        var sums = (await (
            from count in db.AliquotCounts
            join aliquot in db.SampleAliquots on count.AliquotId equals aliquot.Id
            join sample in db.Samples on aliquot.SampleId equals sample.Id
            join access in db.Accesses on sample.AccessId equals access.Id
            where sample.Kind == Domain.Sampling.SampleKind.Grab
            select new { access.Water, sample.Code, count.Count }).ToListAsync())
            .GroupBy(row => (row.Water, row.Code)).Select(group => (group.Key.Water, Sum: group.Sum(row => row.Count))).ToList();

        sums.Where(one => one.Water == "Copperline Reservoir").Max(one => one.Sum).Should().BeGreaterThan(100);
        sums.Where(one => one.Water != "Copperline Reservoir").Should().NotBeEmpty().And.OnlyContain(one => one.Sum == 0);
    }

    [Fact]
    public async Task The_crew_knows_where_tank_water_may_go_and_which_parts_to_order()
    {
        VisitOffers offers;
        await using (FleetDbContext db = await app.DatabaseAsync())
        {
            offers = await VisitOffers.ReadAsync(db, CancellationToken.None);
        }

        offers.Sites.Should().HaveCount(2);
        offers.Parts.Should().Contain(part => part.InTruck == 3 && part.Name == "Filter bag");
    }

    [Fact]
    public async Task The_newest_day_came_through_the_intake_at_the_times_at_which_the_stations_sent_it()
    {
        await using FleetDbContext db = await app.DatabaseAsync();
        Dictionary<string, StationId> stations = await db.Stations.ToDictionaryAsync(station => station.Code, station => station.Id);
        IReadOnlyDictionary<StationId, DateTimeOffset> heard = await app.Get<MeasurementReader>().LastHeardAsync(CancellationToken.None);
        List<StationKey> keys = await db.StationKeys.ToListAsync();

        keys.Should().HaveCount(6).And.OnlyContain(key => key.LastUsed >= DemoOffset.Start.AddDays(-1), "each station has used its key");
        foreach (string code in stations.Keys.Where(code => code != "PORT-B"))
        {
            heard[stations[code]].Should().BeOnOrAfter(DemoOffset.Start.AddMinutes(-16), code);
        }

        heard[stations["PORT-B"]].Should().BeBefore(DemoOffset.Start.AddHours(-14), "it left at 16:20 the day before");
    }

    [Fact]
    public async Task The_setup_read_from_the_fleet_file_is_the_one_that_the_database_gives()
    {
        Dictionary<string, StationId> stations = await app.Get<DemoMemory>().StationsAsync(CancellationToken.None);
        FleetFile fleet = app.Get<DemoFleetFile>().Fleet;

        // Another one would make the live watch fold the last weeks anew.
        foreach ((string code, StationId station) in stations)
        {
            StationSetup? stored = await app.Get<StationSetupReader>().ReadAsync(station, DemoOffset.Start, fleet.Zone, CancellationToken.None);
            stored.Should().BeEquivalentTo(fleet.SetupOf(code, DemoOffset.Start), options => options.ComparingByMembers<StationSetup>().Excluding(setup => setup.Service).Excluding(setup => setup.Dips));
        }
    }

    [Fact]
    public async Task A_pump_out_that_somebody_reports_shows_in_the_next_reports()
    {
        DemoWorld world = app.Get<DemoWorld>();
        DateTimeOffset done = DemoOffset.Start.AddHours(2);
        double before = await FillAsync(world, done.AddMinutes(20));

        await using (FleetDbContext db = await app.DatabaseAsync())
        {
            await using IDbContextTransaction transaction = await db.Database.BeginTransactionAsync();
            Ticket tank = await db.Tickets.SingleAsync(ticket => ticket.Rule == Rule.TankFilling && ticket.Closed == null);
            (tank.State, tank.Outcome, tank.Closed, tank.DoneAt) = (TicketState.Closed, TicketOutcome.Fixed, done, done);
            await db.SaveChangesAsync();
            await transaction.CommitAsync();
        }

        double after = await FillAsync(world, done.AddMinutes(20));
        await using (FleetDbContext db = await app.DatabaseAsync())
        {
            await db.Tickets.Where(ticket => ticket.Closed == done).ExecuteUpdateAsync(set => set
                .SetProperty(ticket => ticket.State, TicketState.New)
                .SetProperty(ticket => ticket.Outcome, (TicketOutcome?)null)
                .SetProperty(ticket => ticket.Closed, (DateTimeOffset?)null)
                .SetProperty(ticket => ticket.DoneAt, (DateTimeOffset?)null));
        }

        before.Should().BeGreaterThan(0.8);
        after.Should().BeLessThan(0.1);
    }

    [Fact]
    public async Task The_sign_ins_and_keys_outlive_a_restart_in_a_file_that_only_its_owner_reads()
    {
        FleetPaths paths = app.Get<FleetPaths>();
        DemoFile? file = await DemoFile.LoadAsync(paths, CancellationToken.None);

        file!.Accounts.Select(account => account.Role).Should().BeEquivalentTo("Biologist", "Technician", "Supervisor", "Administrator", "Steward");
        file.Keys.Keys.Should().BeEquivalentTo("COP-1", "COP-2", "OTT-1", "SOR-1", "PORT-A", "PORT-B");
        if (!OperatingSystem.IsWindows())
        {
            File.GetUnixFileMode(DemoFile.PathIn(paths)).Should().Be(UnixFileMode.UserRead | UnixFileMode.UserWrite);
        }
    }

    [Fact]
    public async Task Count_shifts_tell_boats_that_fit_the_counters()
    {
        SummariseSeason.Outcome.Summarised season = (SummariseSeason.Outcome.Summarised)await app.Get<SummariseSeason>()
            .HandleAsync(Accounts.Viewers.Supervisor, new SummariseSeason.Query(2026, "COP-1"), CancellationToken.None);
        BoatCounts counts = season.Report.Summary.Fleet.Boats;

        // The simulated boats of this ramp make three tool uses each, and a third of the invented boats comes by.
        counts.Shifts.Should().HaveCountGreaterThan(2);
        counts.UsesPerBoat!.Value.Value.Should().BeInRange(2.7, 3.4);
        counts.Share!.Share.Value.Should().BeInRange(0.2, 0.5);
        counts.Missing.Should().Contain(part => part.Kind.Words == "weekday afternoons");
    }

    [Fact]
    public async Task A_page_is_answered_once_the_demo_is_ready()
    {
        using HttpClient http = new(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = app.Address };

        using HttpResponseMessage answer = await http.GetAsync(new Uri("/", UriKind.Relative));

        answer.Headers.Location!.ToString().Should().Contain("/sign-in");
    }

    private static async Task<double> FillAsync(DemoWorld world, DateTimeOffset at) =>
        (await world.SimulatorAsync(CancellationToken.None)).ReceivedBetween(at.AddHours(-1), at)
        .Where(report => report.Station == "COP-1").SelectMany(report => report.Measurements)
        .Where(measurement => measurement.Name == MeasurementName.TankFill).OrderBy(measurement => measurement.At).Last().Value;

    [Fact]
    public async Task The_demos_samples_make_a_sound_archive_and_its_door_gives_none()
    {
        int year = app.Get<FleetClock>().GetUtcNow().Year;
        Viewer supervisor = new("demo", "Supervisor", new HashSet<string> { FleetRoles.Supervisor }, null);
        BuildArchive asIfReal = new(
            app.Get<IDbContextFactory<FleetDbContext>>(), app.Get<FleetClock>(), app.Get<IOptions<FleetOptions>>(), app.Get<IOptions<SamplingOptions>>(),
            new FleetPaths(Path.GetDirectoryName(app.Get<FleetPaths>().Folder)!, isDemo: false));

        BuildArchive.Outcome outcome = await asIfReal.HandleAsync(supervisor, year, CancellationToken.None);

        DarwinCoreReader archive = DarwinCoreReader.Open(DarwinCoreArchive.Write(outcome.Should().BeOfType<BuildArchive.Outcome.Built>().Subject.Data));
        DarwinCoreFit.ToPublishedLists(archive);
        DarwinCoreFit.ToDatabase(archive, app.Get<FleetPaths>().Database, year);
        archive.Core.Rows.Should().HaveCountGreaterThan(10);
        (await app.Get<BuildArchive>().HandleAsync(supervisor, year, CancellationToken.None)).Should().BeOfType<BuildArchive.Outcome.Invented>();
    }
}
