using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Domain.Service.Duty;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Service.Routes;
using StationFleet.Storage.Watch;
using StationFleet.Web.Telemetry;

namespace StationFleet.Web.Platform.Demo;

/// <summary>Puts the fleet of a fleet file into an empty database, with sign-ins and station keys.</summary>
internal sealed class LoadDemoFleet(
    IDbContextFactory<FleetDbContext> databases, IServiceScopeFactory scopes, StationKeys keys, FleetPaths paths, DemoFleetFile demo)
{
    /// <returns>The sign-ins and keys: those of the first start, made when this is it.</returns>
    public async Task<DemoFile> HandleAsync(CancellationToken cancel)
    {
        if (await DemoFile.LoadAsync(paths, cancel) is { } known)
        {
            return known;
        }

        await using (FleetDbContext db = await databases.CreateDbContextAsync(cancel))
        {
            if (await db.Stations.AnyAsync(cancel))
            {
                throw new InvalidOperationException($"The demo's first start was cut short. Delete {paths.Folder} and start it again.");
            }
        }

        Dictionary<string, StationId> stations = await databases.WriteAsync(db => AddFleetAsync(db, demo.Fleet, cancel), cancel);
        List<DemoAccount> accounts = await AddPeopleAsync();
        await databases.WriteAsync(
            async db => db.Add(new DutyEntry
            {
                PersonId = (await DemoTickets.TechnicianAsync(db, cancel)).Id, Days = Weekdays.All, From = new TimeOnly(6, 0), To = new TimeOnly(18, 0),
            }),
            cancel);
        Dictionary<string, string> made = [];
        foreach ((string code, StationId station) in stations)
        {
            made[code] = ((StationKeys.MakeOutcome.Made)await keys.MakeAsync(station, cancel)).Key;
        }

        DemoFile file = new(accounts, made);
        await file.SaveAsync(paths, cancel);
        return file;
    }

    private async Task<List<DemoAccount>> AddPeopleAsync()
    {
        await using AsyncServiceScope scope = scopes.CreateAsyncScope();
        UserManager<FleetUser> users = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        List<DemoAccount> accounts = [];
        foreach (FleetPerson person in demo.Fleet.People)
        {
            string password = DemoFile.NewPassword();
            FleetUser user = new() { UserName = person.Email, Email = person.Email, DisplayName = person.Name, EmailConfirmed = true };
            Require(await users.CreateAsync(user, password));
            Require(await users.AddToRoleAsync(user, person.Role));
            accounts.Add(new DemoAccount(person.Email, password, person.Role));
        }

        return accounts;
    }

    private static async Task<Dictionary<string, StationId>> AddFleetAsync(FleetDbContext db, FleetFile fleet, CancellationToken cancel)
    {
        Dictionary<string, Agency> agencies = fleet.Agencies.ToDictionary(agency => agency.Name, agency => new Agency { Name = agency.Name });
        db.AddRange(agencies.Values);
        await db.SaveChangesAsync(cancel);
        Dictionary<string, Access> accesses = fleet.Accesses.ToDictionary(access => access.Slug, access => new Access
        {
            Slug = access.Slug,
            Name = access.Name,
            Water = access.Water,
            HostId = agencies[access.Host].Id,
            TimeZone = access.TimeZone ?? fleet.TimeZone,
            Latitude = access.Latitude,
            Longitude = access.Longitude,
        });
        db.AddRange(accesses.Values);
        Dictionary<string, Station> stations = fleet.Stations.ToDictionary(station => station.Code, station => new Station
        {
            Code = station.Code,
            IsPortable = station.Portable,
            OwnerId = agencies[station.Owner].Id,
            OperatorId = agencies[station.Operator ?? station.Owner].Id,
            Created = station.Created,
            ReportEvery = TimeSpan.FromMinutes(station.ReportEveryMinutes),
            AccessCode = "Box 2580",
            KeyHolders = "District yard; field crew",
        });
        db.AddRange(stations.Values);
        await db.SaveChangesAsync(cancel);
        db.AddRange(fleet.Accesses.SelectMany(access => access.Closures.Select(closure => new AccessClosure
        {
            AccessId = accesses[access.Slug].Id, From = closure.From, To = closure.To, Reason = closure.Reason,
        })));
        db.AddRange(fleet.Yards.Select(yard => new Yard { Name = yard.Name, Latitude = yard.Latitude, Longitude = yard.Longitude }));
        db.AddRange(fleet.KnownDays.Select(known => new KnownDays
        {
            AccessId = known.Access is { } slug ? accesses[slug].Id : null,
            Name = known.Name,
            FirstDay = known.First,
            LastDay = known.Last ?? known.First,
            Factor = known.Factor,
        }));
        DemoTaxa.Add(db, agencies);
        foreach (FleetStation station in fleet.Stations)
        {
            AddParts(db, station, stations[station.Code].Id, accesses);
        }

        return stations.ToDictionary(station => station.Key, station => station.Value.Id);
    }

    private static void AddParts(FleetDbContext db, FleetStation station, StationId id, Dictionary<string, Access> accesses)
    {
        db.AddRange(station.Placements.Select(placement => new Placement
        {
            StationId = id, AccessId = accesses[placement.Access].Id, From = placement.From, To = placement.To,
        }));
        db.AddRange(station.Winter.Select(winter => new WinterStorage { StationId = id, From = winter.From, To = winter.To }));
        db.AddRange(station.Tools.Select(tool => new Tool
        {
            StationId = id,
            Slug = tool.Slug,
            Kind = tool.Kind,
            Name = tool.Name,
            Installed = tool.Installed ?? station.Created,
            Removed = tool.Removed,
            IdleAfterDays = tool.IdleAfterDays,
            UsesWrapAt = tool.UsesWrapAt,
        }));
        db.AddRange(station.TankHistory.Tanks.Select(tank => StationTank.Of(id, tank.From, tank.Tank)));
        db.AddRange(station.TankHistory.Calibrations.Select(calibration => StationCalibration.Of(id, calibration)));
        db.AddRange(station.Power.Select(power => new StationPower
        {
            StationId = id,
            From = power.From ?? station.Created,
            Chemistry = power.Chemistry,
            CapacityAh = power.CapacityAh,
            NominalVolts = power.NominalVolts,
            PanelWatts = power.PanelWatts,
            TiltDeg = power.TiltDeg,
            AzimuthDeg = power.AzimuthDeg,
            HeightM = power.HeightM,
            RestTable = power.RestTable,
        }));
        if (station.Rules is { } rules)
        {
            db.Add(new StationRules { StationId = id, Settings = rules });
        }
    }

    private static void Require(IdentityResult result)
    {
        if (!result.Succeeded)
        {
            throw new InvalidOperationException(string.Join(' ', result.Errors.Select(error => error.Description)));
        }
    }
}
