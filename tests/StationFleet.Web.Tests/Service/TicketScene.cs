using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;

namespace StationFleet.Web.Tests.Service;

/// <summary>A station with a 55-gallon tank and open tickets, as the watch would have raised them.</summary>
internal static class TicketScene
{
    private const double Litres55Gal = 208.197648;

    public static async Task<Ticket> AddTankTicketAsync(this FleetApp app, int number, string code = "COP-1")
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        Station? station = await db.Stations.FirstOrDefaultAsync(row => row.Code == code);
        Access? access = await db.Accesses.FirstOrDefaultAsync();
        if (station is null)
        {
            access ??= await app.Databases.AddAsync(new Access
            {
                Slug = "dam-road",
                Name = "Dam Road access",
                Water = "Copperline Reservoir",
                HostId = (await app.Databases.AddAgencyAsync()).Id,
                TimeZone = "America/Boise",
            });
            station = await app.Databases.AddStationAsync(code);
            await app.Databases.AddPlacementAsync(station, access);
            await app.Databases.AddAsync(new StationTank { StationId = station.Id, From = station.Created, CapacityLitres = Litres55Gal });
        }

        return await app.AddTicketAsync(
            number, station.Id, access?.Id, Rule.TankFilling, "", new TankFillingEvidence(46.0 / 55, Litres55Gal, 40));
    }

    public static async Task<Ticket> AddTicketAsync(
        this FleetApp app, int number, StationId station, AccessId? access, Rule rule, string part, Evidence evidence)
    {
        DateTimeOffset raised = FleetApp.Start.AddHours(-2);
        Ticket ticket = await app.Databases.AddAsync(new Ticket
        {
            Number = number,
            StationId = station,
            AccessId = access,
            Rule = rule,
            Part = part,
            State = TicketState.New,
            Raised = raised,
            Evidence = WatchJson.Write(evidence),
        });
        await app.Databases.AddAsync(new TicketEvent { TicketId = ticket.Id, At = raised, Kind = TicketEventKind.Raised });
        return ticket;
    }

    public static async Task<T> ReadAsync<T>(this FleetApp app, Func<FleetDbContext, Task<T>> read)
    {
        await using FleetDbContext db = await app.Databases.CreateDbContextAsync();
        return await read(db);
    }

    public static Task<ServiceVisit[]> VisitsAsync(this FleetApp app, int number) => app.ReadAsync(db => db.ServiceVisits
        .Where(visit => db.Tickets.Any(ticket => ticket.Id == visit.TicketId && ticket.Number == number)).ToArrayAsync());

    public static Task<PumpOut[]> PumpOutsAsync(this FleetApp app, int number) => app.ReadAsync(db => db.PumpOuts
        .Where(pumpOut => db.Tickets.Any(ticket => ticket.StationId == pumpOut.StationId && ticket.Number == number)).ToArrayAsync());

    public static Task<Ticket> TicketAsync(this FleetApp app, int number) =>
        app.ReadAsync(db => db.Tickets.AsNoTracking().SingleAsync(ticket => ticket.Number == number));

    public static Task<List<TicketEvent>> EventsAsync(this FleetApp app, int number) => app.ReadAsync(db => db.TicketEvents
        .Where(happening => db.Tickets.Any(ticket => ticket.Id == happening.TicketId && ticket.Number == number))
        .OrderBy(happening => happening.Id).ToListAsync());
}
