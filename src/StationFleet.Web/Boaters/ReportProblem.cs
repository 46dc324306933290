using System.Net;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Storage.Boaters;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Boaters;

/// <summary>
/// Takes what a boater says is wrong: a note on the ticket that is open on that tool, else an entry that a person makes a ticket of.
/// A stranger's word alone raises no ticket and sends no mail.
/// </summary>
internal sealed partial class ReportProblem(IDbContextFactory<FleetDbContext> databases, PublicReportLimiter limiter, FleetClock clock)
{
    /// <summary>The choice that means the whole station, after its code.</summary>
    public const string WholeStation = "";

    /// <summary>What was sent.</summary>
    /// <param name="About">A station's code and a tool's slug with a stroke between; see <see cref="WholeStation"/>.</param>
    /// <param name="Trap">A field that people do not see: whoever fills it is a machine.</param>
    internal sealed record Command(string Key, string About, string Trouble, string Words, string Trap, IPAddress? Sender);

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Taken : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record TooMany : Outcome;
    }

    public static string About(string code, string slug) => $"{code}/{slug}";

    public async Task<Outcome> HandleAsync(ReadPublicPage.View page, Command command, CancellationToken cancel)
    {
        if (command.Trap.Length > 0)
        {
            return new Outcome.Taken(); // or the machine would learn what to leave empty
        }

        string words = Spaces().Replace(command.Words, " ").Trim();
        ReadPublicPage.StandingStation? station = page.Stations.FirstOrDefault(one => command.About.StartsWith($"{one.Code}/", StringComparison.Ordinal));
        string slug = station is null ? "" : command.About[(station.Code.Length + 1)..];
        ReadPublicPage.HangingTool? tool = station?.Tools.FirstOrDefault(one => one.Slug == slug);
        bool hasTrouble = Enum.TryParse(command.Trouble, out Trouble trouble) && Enum.IsDefined(trouble) && !char.IsAsciiDigit(command.Trouble[0]);
        WrongFields wrong = [];
        if (station is null || (slug.Length > 0 && tool is null))
        {
            wrong.Note(nameof(Command.About), "Choose what it is about.");
        }

        if (!hasTrouble)
        {
            wrong.Note(nameof(Command.Trouble), "Choose what is wrong.");
        }
        else if (trouble == Trouble.Other && words.Length == 0)
        {
            wrong.Note(nameof(Command.Words), "Say in a few words what it is.");
        }

        if (words.Length > PublicReport.LongestWords)
        {
            wrong.Note(nameof(Command.Words), $"Shorten it to {PublicReport.LongestWords} characters.");
        }

        if (!FormKey.IsWhole(command.Key))
        {
            wrong.Note("", FormKey.NotWhole);
        }

        return wrong.Count > 0 ? new Outcome.Refused(wrong)
            : !limiter.MayReport(command.Sender, page.Id) ? new Outcome.TooMany()
            : await databases.WriteAsync(db => TakeAsync(db, page.Id, station!.Id, tool, trouble, words, command.Key, cancel), cancel);
    }

    private async Task<Outcome> TakeAsync(
        FleetDbContext db, AccessId access, StationId station, ReadPublicPage.HangingTool? tool, Trouble trouble, string words, string key, CancellationToken cancel)
    {
        if (await db.PublicReports.AnyAsync(report => report.IdempotencyKey == key, cancel))
        {
            return new Outcome.Taken();
        }

        string part = tool?.Slug ?? "";
        Ticket? open = await OpenOnAsync(db, station, part, cancel);
        DateTimeOffset now = clock.GetUtcNow();
        db.PublicReports.Add(new PublicReport
        {
            At = now, AccessId = access, StationId = station, Part = part, Trouble = trouble, Words = words, IdempotencyKey = key,
            State = open is null ? PublicReportState.Waiting : PublicReportState.Noted, TicketId = open?.Id,
        });
        if (open is not null)
        {
            db.TicketEvents.Add(new TicketEvent
            {
                TicketId = open.Id, At = now, Kind = TicketEventKind.Noted, Who = PublicReportWords.Who,
                Note = PublicReportWords.Sentence(tool?.Name ?? "", trouble, words),
            });
        }

        return new Outcome.Taken();
    }

    /// <summary>The ticket that is open on a tool; of the whole station only one that boaters' words made.</summary>
    internal static Task<Ticket?> OpenOnAsync(FleetDbContext db, StationId station, string part, CancellationToken cancel) => db.Tickets
        .Where(ticket => ticket.StationId == station && ticket.Part == part && ticket.State != TicketState.Closed
            && (part != "" || ticket.Rule == Domain.Watch.Rule.PublicReport))
        .OrderByDescending(ticket => ticket.Rule == Domain.Watch.Rule.PublicReport).ThenByDescending(ticket => ticket.Number)
        .FirstOrDefaultAsync(cancel);

    [GeneratedRegex(@"[\s\p{Cc}]+")]
    private static partial Regex Spaces();
}
