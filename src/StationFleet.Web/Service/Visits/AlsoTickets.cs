using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Service;

namespace StationFleet.Web.Service.Visits;

/// <summary>Other open tickets at the same station that one visit closes with its own.</summary>
internal static class AlsoTickets
{
    /// <summary>How the form names a ticket: its number, its version, the newest event shown with it.</summary>
    public static string Write(TicketRow row) => string.Create(CultureInfo.InvariantCulture, $"{row.Number} {row.Version} {row.Seen}");

    /// <summary>Finds them; nothing is changed yet.</summary>
    /// <returns>The tickets; or what other people did with one of them meanwhile, or that one cannot be closed here.</returns>
    public static async Task<(IReadOnlyList<Ticket> Tickets, TicketAnswer? Stop)> FindAsync(
        TicketDesk.Desk at, IReadOnlyList<string> also, IReadOnlyList<string> own, CancellationToken cancel)
    {
        List<Ticket> tickets = [];
        foreach (string text in also.Distinct(StringComparer.Ordinal))
        {
            int[] parts = [.. text.Split(' ').Select(part => int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : -1)];
            Ticket? ticket = parts is [var wanted, _, _]
                ? await at.Db.Tickets.FirstOrDefaultAsync(row => row.Number == wanted && row.StationId == at.Ticket.StationId && row.Id != at.Ticket.Id, cancel)
                : null;
            if (ticket is null)
            {
                return ([], Wrong("One of the other tickets is not at this station. Look again and send it once more."));
            }

            if (await TicketDesk.MeanwhileAsync(at.Db, ticket, parts[1], parts[2], own, cancel) is { Count: > 0 } meanwhile)
            {
                return ([], new TicketAnswer.Changed(meanwhile));
            }

            if (ticket.State == TicketState.Closed)
            {
                return ([], Wrong(string.Create(CultureInfo.InvariantCulture, $"T-{ticket.Number} is closed already: leave it out.")));
            }

            tickets.Add(ticket);
        }

        return (tickets, null);
    }

    private static TicketAnswer.Wrong Wrong(string sentence) => new(new Dictionary<string, string> { [nameof(VisitInput.Also)] = sentence });
}
