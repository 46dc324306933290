using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Storage.Service.Visits;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.Visits;

namespace StationFleet.Web.Service;

/// <summary>Reads what a form says about a visit and stores the visit with its pump-out and parts; noting and closing share it.</summary>
internal sealed class VisitLog(IOptions<FleetOptions> options, FleetPaths paths)
{
    public async Task<(VisitReport? Report, Dictionary<string, string> Errors)> ReadAsync(
        TicketDesk.Desk at, VisitInput typed, CancellationToken cancel)
    {
        TimeZoneInfo zone = await TicketDesk.ZoneAsync(at, options.Value, cancel);
        TankHistory tank = await at.Db.TankHistoryAsync(at.Ticket.StationId, cancel);
        VisitLimits limits = new(
            zone, at.Now, at.Ticket.Raised, options.Value.Units, tank.At(at.Now), await at.Db.StepsEverAsync(at.Ticket.Rule, cancel))
        {
            Offers = await VisitOffers.ReadAsync(at.Db, cancel),
        };
        VisitReport? report = VisitReport.Read(typed, limits, out Dictionary<string, string> errors);

        // The same emptying told twice would count twice in the season.
        if (report is { PumpedOutLitres: > 0 } && await at.Db.PumpOuts.FirstOrDefaultAsync(
            row => row.StationId == at.Ticket.StationId && row.At == report.At && row.Source == PumpOutSource.Visit, cancel) is { } known)
        {
            string unit = Units.VolumeUnit(options.Value.Units);
            errors[nameof(VisitInput.PumpedOut)] =
                $"{NumberWords.Brief(Units.VolumeFor(known.Litres, options.Value.Units))} {unit} are already written down for this minute. Empty this field, or change the time.";
            report = null;
        }

        return (report, errors);
    }

    /// <param name="at">The ticket within the transaction.</param>
    /// <param name="form">The form, with its photographs.</param>
    /// <param name="report">What was done.</param>
    /// <param name="others">Further tickets that the visit closed.</param>
    /// <param name="cancel">Stops the writing.</param>
    public async Task WriteAsync(
        TicketDesk.Desk at, TicketForm form, VisitReport report, IReadOnlyList<Ticket> others, CancellationToken cancel)
    {
        await form.Photographs.WriteAsync(at, form, paths, cancel);
        if (!report.IsVisit)
        {
            return;
        }

        ServiceVisit visit = new()
        {
            StationId = at.Ticket.StationId,
            TicketId = at.Ticket.Id,
            Who = form.Viewer.Name,
            At = report.At,
            Minutes = report.Minutes,
            Note = report.Note.Length > 0 ? report.Note : null,
            Hours = report.Extras.Hours,
            Award = report.Extras.Award,
        };
        at.Db.ServiceVisits.Add(visit);

        // What follows refers to the visit by its number, which the database gives.
        await at.Db.SaveChangesAsync(cancel);
        at.Db.VisitTickets.AddRange(others.Select(other => new VisitTicket { VisitId = visit.Id, TicketId = other.Id }));
        at.Db.PartMoves.AddRange(report.Extras.Parts.Select(use => new PartMove
        {
            PartId = use.Part, Place = report.Extras.From, Change = -use.Used, At = at.Now, Who = form.Viewer.Name, VisitId = visit.Id,
        }));
        if (report.PumpedOutLitres is > 0 and { } litres)
        {
            at.Db.PumpOuts.Add(new PumpOut
            {
                StationId = at.Ticket.StationId, At = report.At, Litres = litres, Source = PumpOutSource.Visit, VisitId = visit.Id,
                DipLitres = report.Dip?.Litres, DipLevelM = report.Dip?.LevelM, DisposalSiteId = report.Extras.Site,
            });
        }
    }
}
