using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;

namespace StationFleet.Web.Mail;

/// <summary>Which mails a person sees: all, or those about tickets of the person's agency.</summary>
internal static class MailVisibility
{
    public static IQueryable<OutgoingMail> MailsVisibleTo(this FleetDbContext db, Viewer viewer) => viewer.Agency is null
        ? db.OutgoingMails
        : db.OutgoingMails.Where(mail => db.Tickets.Any(ticket =>
            (ticket.Id == mail.TicketId || db.TicketCalls.Any(call => call.MailId == mail.Id && call.TicketId == ticket.Id))
            && db.Stations.VisibleTo(viewer).Any(station => station.Id == ticket.StationId)));
}
