using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Time.Testing;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Watch;
using StationFleet.Web.Duty;
using StationFleet.Web.Mail;
using StationFleet.Web.Mail.Replies;
using StationFleet.Web.Platform;
using StationFleet.Web.Watch;

namespace StationFleet.Web.Tests.Watch;

/// <summary>A database file with a station at an access, people who are told, and a clock that the test moves.</summary>
public sealed class WatchScene : IAsyncLifetime
{
    /// <summary>Monday 1 June 2026, 06:00 in America/Boise; the stations exist from then on.</summary>
    public static readonly DateTimeOffset Start = new(2026, 6, 1, 12, 0, 0, TimeSpan.Zero);

    private readonly FakeTimeProvider _time = new(Start);
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("watch-");

    public FleetDatabaseFile File { get; } = new();

    public Station Station { get; private set; } = null!;

    public Access Access { get; private set; } = null!;

    public DateTimeOffset Now => _time.GetUtcNow();

    /// <summary>The fleet's clock, for other handlers.</summary>
    public FleetClock Clock => new(_time, TimeSpan.Zero);

    public async Task InitializeAsync()
    {
        await File.InitializeAsync();
        Access = await File.AddAccessAsync();
        Station = await AddStationAsync("COP-1");
        await AddPersonAsync("technician", FleetRoles.Technician);
        await AddPersonAsync("biologist", FleetRoles.Biologist);
        await AddPersonAsync("supervisor", FleetRoles.Supervisor);
    }

    public async Task DisposeAsync()
    {
        await File.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    internal static FleetOptions Fleet => new() { TimeZone = "America/Boise", PublicUrl = "https://fleet.example/" };

    public async Task<Station> AddStationAsync(string code, Access? access = null)
    {
        var agency = await File.AddAgencyAsync();
        Station station = await File.AddAsync(new Station { Code = code, OwnerId = agency.Id, OperatorId = agency.Id, Created = Start });
        await File.AddPlacementAsync(station, access ?? Access, Start);
        await File.AddAsync(new StationTank { StationId = station.Id, From = Start, CapacityLitres = 200 });
        return station;
    }

    public async Task<FleetUser> AddPersonAsync(string name, string role, Domain.Fleet.AgencyId? agency = null)
    {
        await using FleetDbContext db = File.CreateDbContext();
        if (await db.Roles.SingleOrDefaultAsync(r => r.Name == role) is not { } known)
        {
            known = new IdentityRole(role) { NormalizedName = role.ToUpperInvariant() };
            db.Add(known);
        }

        FleetUser person = new() { UserName = name, DisplayName = name, Email = $"{name}@juniper-basin.example", AgencyId = agency };
        db.Add(person);
        db.Add(new IdentityUserRole<string> { UserId = person.Id, RoleId = known.Id });
        await db.SaveChangesAsync();
        return person;
    }

    /// <summary>A handler as after a start of the program: it knows nothing but what is in the file.</summary>
    internal RunWatch Handler() => new(
        File,
        new StationSetupReader(File),
        new NoteServerAlive(File),
        File.Reader,
        StationHandler(),
        Caller(),
        Clock,
        Options.Create(Fleet),
        NullLogger<RunWatch>.Instance);

    /// <summary>The part of the handler that watches one station, and throws what the whole one would log.</summary>
    internal WatchStation StationHandler() => new(File, File.Reader, Options.Create(new WatchOptions()));

    /// <summary>What tells people of tickets, as after a start of the program.</summary>
    internal CallPeople Caller() => new(File, Outbox(), Options.Create(Duty), Options.Create(Fleet), Clock, NullLogger<CallPeople>.Instance);

    internal Outbox Outbox() => new(
        Options.Create(Fleet), Options.Create(new MailOptions { Domain = "fleet.example" }), Options.Create(Imap),
        new FleetPaths(_folder.FullName, isDemo: false), new ConfigurationBuilder().Build());

    /// <summary>When people may be told; without quiet hours and without escalation unless a test sets them.</summary>
    internal DutyOptions Duty { get; } = new() { QuietFrom = new TimeOnly(0, 0), QuietTo = new TimeOnly(0, 0), EscalateAfterHours = 0 };

    /// <summary>The mailbox of answers; not used unless a test sets it.</summary>
    internal ImapOptions Imap { get; } = new();

    /// <summary>Watches one station, and writes what follows.</summary>
    public async Task WatchAsync(Station station)
    {
        Domain.Fleet.StationSetup setup = (await new StationSetupReader(File).ReadAsync(station.Id, Now, Options.Create(Fleet).Value.Zone, CancellationToken.None))!;
        WatchPosition? position = (await RowsAsync<WatchPosition>()).Find(row => row.StationId == station.Id);
        List<ProblemRow> problems = (await RowsAsync<ProblemRow>()).FindAll(row => row.StationId == station.Id);
        (_, WatchFindings? uneventful) = await StationHandler().HandleAsync(
            new WatchStation.Subject(station.Id, setup, position, problems), Now, CancellationToken.None);
        if (uneventful is not null)
        {
            await using FleetDbContext db = File.CreateDbContext();
            await WatchFindings.MovePositionsAsync(db, [uneventful], CancellationToken.None);
        }
    }

    internal Task<RunWatch.Outcome> RunAsync() => Handler().HandleAsync(CancellationToken.None);

    public void Pass(TimeSpan time) => _time.Advance(time);

    /// <summary>Time passes without reports; the watch goes on.</summary>
    public async Task PassWatchingAsync(TimeSpan time)
    {
        for (DateTimeOffset end = Now + time; Now < end;)
        {
            Pass(TimeSpan.FromMinutes(30));
            await RunAsync();
        }
    }

    /// <summary>A report arrives now.</summary>
    public Task ReportAsync(params (string Name, double Value)[] values) => ReportAsync(Station, Now, values);

    /// <summary>A report arrives now, measured earlier.</summary>
    public async Task ReportAsync(Station station, DateTimeOffset measured, params (string Name, double Value)[] values)
    {
        Measurement[] measurements = [.. values.Select(value => new Measurement(value.Name, measured, value.Value))];
        WriteOutcome outcome = await File.Writer.WriteAsync(FleetBuilders.ReportReceivedAt(station, Now, measurements), CancellationToken.None);
        outcome.Should().BeOfType<WriteOutcome.Stored>();
    }

    /// <summary>Reports arrive every 15 minutes and the watch runs after each.</summary>
    public async Task SayAsync(string name, params double[] values)
    {
        foreach (double value in values)
        {
            Pass(TimeSpan.FromMinutes(15));
            await ReportAsync((name, value));
            await RunAsync();
        }
    }

    public async Task<List<T>> RowsAsync<T>()
        where T : class
    {
        await using FleetDbContext db = File.CreateDbContext();
        return await db.Set<T>().AsNoTracking().ToListAsync();
    }
}
