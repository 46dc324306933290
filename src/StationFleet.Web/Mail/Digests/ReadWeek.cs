using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Mail;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Duty;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;

namespace StationFleet.Web.Mail.Digests;

/// <summary>What the last seven days brought and which dates the next seven hold, for the weekly mail.</summary>
internal sealed class ReadWeek(IDbContextFactory<FleetDbContext> databases, IOptions<FleetOptions> fleet)
{
    private const int Days = 7;

    /// <param name="viewer">Whose mail it is.</param>
    /// <param name="crew">Who is away, and who stands in.</param>
    /// <param name="ahead">What the page Today expects in the same days: full tanks, low batteries, samples, moves, reports.</param>
    /// <param name="now">The present.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<WeekFigures> HandleAsync(Viewer viewer, Crew crew, ReadWeekAhead.View ahead, DateTimeOffset now, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        DateTimeOffset from = now.AddDays(-Days);
        IQueryable<Ticket> tickets = TicketList.VisibleTo(db, viewer);
        double litres = await db.PumpOuts
            .Where(pumpOut => pumpOut.At >= from && pumpOut.At <= now && db.Stations.VisibleTo(viewer).Any(station => station.Id == pumpOut.StationId))
            .SumAsync(pumpOut => pumpOut.Litres, cancel);
        List<(DateOnly Day, string What)> dates =
        [
            .. await SnoozesAsync(db, tickets, now, cancel), .. await KnownDaysAsync(db, now, cancel), .. Absences(crew, now),
            .. ahead.Lanes.SelectMany(lane => lane.Items.Select(item => (item.Day, $"{lane.Name}: {item.Label}."))),
        ];
        return new WeekFigures(
            await tickets.CountAsync(ticket => ticket.Raised >= from, cancel),
            await tickets.CountAsync(ticket => ticket.Closed >= from, cancel),
            [.. dates.OrderBy(date => date.Day).Select(date => (Say(date.Day), date.What))],
            litres > 0 ? $"Pumped out: {NumberWords.Figures(Units.VolumeFor(litres, fleet.Value.Units))} {Units.VolumeUnit(fleet.Value.Units)}." : null);
    }

    private async Task<IEnumerable<(DateOnly, string)>> SnoozesAsync(
        FleetDbContext db, IQueryable<Ticket> tickets, DateTimeOffset now, CancellationToken cancel)
    {
        DateTimeOffset until = now.AddDays(Days);
        var ending = await tickets
            .Where(ticket => ticket.State != TicketState.Closed && ticket.SnoozedUntil > now && ticket.SnoozedUntil <= until)
            .Select(ticket => new
            {
                ticket.Number, ticket.SnoozedUntil,
                Station = db.Stations.Where(station => station.Id == ticket.StationId).Select(station => station.Code).First(),
            })
            .ToListAsync(cancel);
        return ending.Select(ticket => (
            LocalCalendar.DateOf(ticket.SnoozedUntil!.Value, fleet.Value.Zone), $"T-{ticket.Number} at {ticket.Station} is no longer snoozed."));
    }

    private async Task<IEnumerable<(DateOnly, string)>> KnownDaysAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        (DateOnly today, DateOnly last) = Week(now);
        List<KnownDays> known = await db.KnownDays.AsNoTracking().Where(days => days.FirstDay <= last && days.LastDay >= today).ToListAsync(cancel);
        return known.Select(days => (
            days.FirstDay < today ? today : days.FirstDay,
            $"{days.Name}: {NumberWords.Brief(days.Factor)} times the usual boats{(days.LastDay > days.FirstDay ? $", until {Say(days.LastDay)}" : "")}."));
    }

    private IEnumerable<(DateOnly, string)> Absences(Crew crew, DateTimeOffset now)
    {
        (DateOnly today, DateOnly last) = Week(now);
        return crew.Roster.Absences.Where(absence => absence.FirstDay <= last && absence.LastDay >= today).Select(absence => (
            absence.FirstDay < today ? today : absence.FirstDay,
            $"{crew.NameOf(absence.Away) ?? "Somebody"} is away until {Say(absence.LastDay)}; {(absence.StandIn is { } id ? crew.NameOf(id) : null) ?? "nobody"} stands in."));
    }

    private (DateOnly First, DateOnly Last) Week(DateTimeOffset now)
    {
        DateOnly today = LocalCalendar.DateOf(now, fleet.Value.Zone);
        return (today, today.AddDays(Days - 1));
    }

    private static string Say(DateOnly day) => day.ToString("ddd d MMM", CultureInfo.InvariantCulture);
}
