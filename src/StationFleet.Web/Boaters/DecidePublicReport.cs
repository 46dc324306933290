using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Boaters;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;
using StationFleet.Web.Service;

namespace StationFleet.Web.Boaters;

/// <summary>A person makes a ticket of what a boater reported, or puts it aside; the report itself stays either way.</summary>
public sealed class DecidePublicReport(IDbContextFactory<FleetDbContext> databases, FleetClock clock)
{
    public abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <param name="Number">The ticket that it is now; null when it was put aside.</param>
        public sealed record Decided(int? Number) : Outcome;

        /// <summary>Somebody else was quicker.</summary>
        public sealed record AlreadyDecided : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public Task<Outcome> HandleAsync(Viewer viewer, int report, bool confirm, CancellationToken cancel) => TicketDesk.MayAct(viewer)
        ? databases.WriteAsync(db => DecideAsync(db, viewer, report, confirm, cancel), cancel)
        : Task.FromResult<Outcome>(new Outcome.NotAllowed());

    private async Task<Outcome> DecideAsync(FleetDbContext db, Viewer viewer, int id, bool confirm, CancellationToken cancel)
    {
        PublicReport? report = await ListPublicReports.VisibleTo(db, viewer).SingleOrDefaultAsync(row => row.Id == id, cancel);
        if (report is null)
        {
            return new Outcome.NotAllowed();
        }

        if (report.State != PublicReportState.Waiting)
        {
            return new Outcome.AlreadyDecided();
        }

        (report.DecidedBy, report.DecidedAt) = (viewer.Name, clock.GetUtcNow());
        if (!confirm)
        {
            report.State = PublicReportState.Dismissed;
            return new Outcome.Decided(null);
        }

        Ticket ticket = await ReportProblem.OpenOnAsync(db, report.StationId, report.Part, cancel) is { } open
            ? await NoteAsync(db, open, report, cancel)
            : await RaiseAsync(db, report, viewer, cancel);
        (report.State, report.TicketId) = (PublicReportState.Confirmed, ticket.Id);
        return new Outcome.Decided(ticket.Number);
    }

    private static async Task<Ticket> NoteAsync(FleetDbContext db, Ticket open, PublicReport report, CancellationToken cancel)
    {
        db.TicketEvents.Add(new TicketEvent
        {
            TicketId = open.Id, At = report.DecidedAt!.Value, Kind = TicketEventKind.Noted, Who = PublicReportWords.Who,
            Note = PublicReportWords.Sentence(await ListPublicReports.ToolNameAsync(db, report, cancel), report.Trouble, report.Words),
        });
        return open;
    }

    private static async Task<Ticket> RaiseAsync(FleetDbContext db, PublicReport report, Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = report.DecidedAt!.Value;
        string tool = await ListPublicReports.ToolNameAsync(db, report, cancel);
        Ticket ticket = new()
        {
            Number = (await db.Tickets.MaxAsync(row => (int?)row.Number, cancel) ?? 0) + 1,
            StationId = report.StationId, AccessId = report.AccessId, Rule = Rule.PublicReport, Part = report.Part, State = TicketState.New, Raised = now,
            Evidence = WatchJson.Write<Evidence>(new PublicReportEvidence(tool, report.Trouble, report.Words, report.At)),
        };
        db.Tickets.Add(ticket);
        await db.SaveChangesAsync(cancel); // its id
        db.TicketEvents.Add(new TicketEvent { TicketId = ticket.Id, At = now, Kind = TicketEventKind.Raised });
        db.TicketEvents.Add(new TicketEvent
        {
            TicketId = ticket.Id, At = now, Kind = TicketEventKind.Noted, Who = viewer.Name, Note = "Confirmed what the public reported.",
        });
        return ticket;
    }
}
