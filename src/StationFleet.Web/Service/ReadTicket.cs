using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.Stations;
using StationFleet.Web.Service.Visits;

namespace StationFleet.Web.Service;

/// <summary>One ticket as its page shows it; public, since parts of the page take it as a parameter.</summary>
/// <param name="Zone">The time zone of the access.</param>
/// <param name="Told">Who was told of it by mail, and when, the first first.</param>
/// <param name="MayAct">Whether the person may do more than read.</param>
public sealed record TicketView(
    TicketRow Row, TimeZoneInfo Zone, DateTimeOffset Now, IReadOnlyList<string> Cautions, IReadOnlyList<string> Steps,
    IReadOnlyList<Happening> History, IReadOnlyList<TicketTold> Told, bool MayAct)
{
    /// <summary>What the form of a visit offers to choose from.</summary>
    public VisitOffers Offers { get; init; } = VisitOffers.None;

    /// <summary>The station's short facts.</summary>
    public required StationShortFacts Station { get; init; }

    /// <summary>What people photographed, the oldest first.</summary>
    public IReadOnlyList<TicketPhotograph> Photographs { get; init; } = [];

    /// <summary>The present as the form's date field wants it.</summary>
    public string LocalNow => TimeZoneInfo.ConvertTime(Now, Zone).ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);
}

/// <summary>A photograph on a ticket.</summary>
public sealed record TicketPhotograph(int Id, string Who, DateTimeOffset At, int Width, int Height);

/// <summary>Somebody was told of a ticket by mail.</summary>
public sealed record TicketTold(string Who, DateTimeOffset At);

/// <summary>All that the page of one ticket shows.</summary>
internal sealed class ReadTicket(
    IDbContextFactory<FleetDbContext> databases, TicketList list, ReadStationShort stations, FleetClock clock, IOptions<FleetOptions> options)
{
    public async Task<TicketView?> HandleAsync(int number, Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IQueryable<Ticket> one = TicketList.VisibleTo(db, viewer).Where(ticket => ticket.Number == number);
        if (await list.ReadAsync(db, one, viewer, cancel) is not [var row])
        {
            return null;
        }

        var about = await one.Select(ticket => new
        {
            ticket.Id,
            ticket.Rule,
            ticket.Evidence,
            Zone = db.Accesses.Where(access => access.Id == ticket.AccessId).Select(access => access.TimeZone).FirstOrDefault(),
        }).FirstAsync(cancel);
        Guidance guidance = await db.GuidanceAsync(cancel);
        List<Happening> history = await db.TicketEvents
            .Where(happening => happening.TicketId == about.Id)
            .OrderBy(happening => happening.At).ThenBy(happening => happening.Id)
            .Select(happening => new Happening(happening.Id, happening.At, happening.Kind, happening.Who, happening.Note))
            .ToListAsync(cancel);
        List<TicketTold> told = await db.TicketCalls
            .Where(call => call.TicketId == about.Id).OrderBy(call => call.Id)
            .Select(call => new TicketTold(db.Users.Where(user => user.Id == call.PersonId).Select(user => user.DisplayName).First(), call.At))
            .ToListAsync(cancel);
        return new TicketView(
            row,
            about.Zone is { } zone ? TimeZoneInfo.FindSystemTimeZoneById(zone) : options.Value.Zone,
            clock.GetUtcNow(),
            [
                .. WatchJson.Read<Evidence>(about.Evidence) is TankFillingEvidence tank ? [Cautions.Mass(tank.FillShare * tank.CapacityLitres)] : Array.Empty<string>(),
                .. guidance.CautionsFor(about.Rule),
            ],
            guidance.StepsFor(about.Rule),
            history,
            told,
            TicketDesk.MayAct(viewer))
        {
            Station = await stations.OfAsync(db, await db.Stations.AsNoTracking().FirstAsync(station => station.Id == row.StationId, cancel), cancel),
            Photographs = await db.Photographs.Where(photograph => photograph.TicketId == about.Id).OrderBy(photograph => photograph.Id)
                .Select(photograph => new TicketPhotograph(photograph.Id, photograph.Who, photograph.At, photograph.Width, photograph.Height))
                .ToListAsync(cancel),
            Offers = await VisitOffers.ReadAsync(db, cancel) with
            {
                Others = await list.ReadAsync(
                    db,
                    TicketList.VisibleTo(db, viewer).Where(ticket => ticket.StationId == row.StationId && ticket.Number != number && ticket.State != TicketState.Closed)
                        .OrderBy(ticket => ticket.Raised),
                    viewer,
                    cancel),
            },
        };
    }
}
