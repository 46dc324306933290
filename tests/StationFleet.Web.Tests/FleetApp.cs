using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc.Testing;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Web.Platform;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Tests;

/// <summary>
/// The whole server on a port of its own, with an empty data folder, no scheduler and a fleet clock that stands still until a test
/// moves it. Starts on Wednesday 8 July 2026, 07:05 in America/Boise.
/// </summary>
public sealed class FleetApp : WebApplicationFactory<Program>, IAsyncLifetime
{
    /// <summary>Where the fleet's clock stands at first.</summary>
    public static readonly DateTimeOffset Start = new(2026, 7, 8, 13, 5, 0, TimeSpan.Zero);

    private readonly (string Name, string Value)[] _settings;
    private bool _isDiskFull;
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-");

    public FleetApp()
        : this(Start)
    {
    }

    private FleetApp(DateTimeOffset start, params (string Name, string Value)[] settings)
    {
        _settings = settings;
        Clock = new FakeTimeProvider(start);
        UseKestrel(0);
    }

    /// <summary>The fleet's clock; sign-in and cookies go by the system's.</summary>
    public FakeTimeProvider Clock { get; }

    /// <summary>A server whose fleet clock stands at another instant at first.</summary>
    /// <param name="start">That instant.</param>
    /// <param name="settings">Settings beside the usual ones.</param>
    public static FleetApp StartingAt(DateTimeOffset start, params (string Name, string Value)[] settings) => new(start, settings);

    /// <summary>A server whose disk is full from the first report on: the database may not grow.</summary>
    public static FleetApp OnAFullDisk() => new(Start) { _isDiskFull = true };

    public Uri Address => ClientOptions.BaseAddress;

    public string DataFolder => _folder.FullName;

    /// <summary>A client without cookies of its own and without following redirects.</summary>
    public HttpClient Http { get; private set; } = null!;

    public Task InitializeAsync()
    {
        StartServer();
        Http = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false }) { BaseAddress = Address };
        return Task.CompletedTask;
    }

    async Task IAsyncLifetime.DisposeAsync()
    {
        Http?.Dispose();
        await base.DisposeAsync();
        SqliteConnection.ClearAllPools(); // or the file stays locked
        _folder.Delete(recursive: true);
    }

    /// <summary>The database; <see cref="FleetBuilders"/> fills it.</summary>
    public IDbContextFactory<FleetDbContext> Databases => Get<IDbContextFactory<FleetDbContext>>();

    public T Get<T>()
        where T : notnull => Services.GetRequiredService<T>();

    /// <summary>A new key of a station.</summary>
    public async Task<string> AddKeyAsync(StationId station) =>
        ((StationKeys.MakeOutcome.Made)await Get<StationKeys>().MakeAsync(station, CancellationToken.None)).Key;

    /// <summary>A person who can sign in with the e-mail address and <paramref name="password"/>.</summary>
    public async Task<FleetUser> AddPersonAsync(string email, string password, params string[] roles)
    {
        await using AsyncServiceScope scope = Services.CreateAsyncScope();
        UserManager<FleetUser> people = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        RoleManager<IdentityRole> known = scope.ServiceProvider.GetRequiredService<RoleManager<IdentityRole>>();
        FleetUser person = new() { UserName = email, Email = email, EmailConfirmed = true };
        Require(await people.CreateAsync(person, password));
        foreach (string role in roles)
        {
            if (!await known.RoleExistsAsync(role))
            {
                Require(await known.CreateAsync(new IdentityRole(role)));
            }

            Require(await people.AddToRoleAsync(person, role));
        }

        return person;
    }

    protected override void ConfigureWebHost(IWebHostBuilder builder)
    {
        builder.UseEnvironment("Development");
        builder.UseSetting("Data", _folder.FullName);
        builder.UseSetting("Scheduler:Enabled", "false");
        builder.UseSetting("Logging:LogLevel:StationFleet.Web.Telemetry", "Error"); // or tests of refused reports flood the console
        foreach ((string name, string value) in _settings)
        {
            builder.UseSetting(name, value);
        }

        builder.ConfigureTestServices(services =>
        {
            services.AddSingleton(new FleetClock(Clock, TimeSpan.Zero));
            if (_isDiskFull)
            {
                services.AddSingleton(provider => FleetDatabaseFile.OnAFullDisk(provider.GetRequiredService<FleetPaths>().Database));
            }
        });
    }

    private static void Require(IdentityResult result)
    {
        if (!result.Succeeded)
        {
            throw new InvalidOperationException(string.Join(' ', result.Errors.Select(error => error.Description)));
        }
    }
}
