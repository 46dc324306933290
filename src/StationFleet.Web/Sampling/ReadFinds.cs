using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>New finds with their logs: the open ones first.</summary>
public sealed class ReadFinds(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    public sealed record Happening(string At, string Who, string What);

    /// <param name="Deadline">Until when the agency's rules want it reported, in words; null when they name no time.</param>
    /// <param name="IsLate">The deadline is over and nobody was told.</param>
    public sealed record Row(
        int Id, int Version, string Taxon, string ScientificName, string Water, string Sample, int Ticket, FindState State, string FoundAt, string? Deadline,
        bool IsLate, string? Contact, IReadOnlyList<Happening> Log);

    public sealed record View(IReadOnlyList<Row> Rows, bool MayDecide);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        (DateTimeOffset now, TimeZoneInfo zone) = (clock.GetUtcNow(), options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        IQueryable<NewFind> visible = NewFinds.VisibleTo(db, viewer);
        var rows = await (
            from find in visible
            join taxon in db.Taxa on find.TaxonId equals taxon.Id
            join agency in db.Agencies on taxon.AgencyId equals agency.Id
            join sample in db.Samples on find.SampleId equals sample.Id
            join ticket in db.Tickets on find.TicketId equals ticket.Id
            orderby find.FoundAt descending
            select new { Find = find, taxon.Name, taxon.ScientificName, agency.FindContact, sample.Code, ticket.Number }).ToListAsync(cancel);
        ILookup<FindId, FindEvent> log = (await db.FindEvents.Where(happening => visible.Any(find => find.Id == happening.FindId))
            .OrderBy(happening => happening.At).ThenBy(happening => happening.Id).ToListAsync(cancel)).ToLookup(happening => happening.FindId);
        return new View(
            [
                .. rows.OrderByDescending(row => row.Find.State is FindState.Presumptive or FindState.Confirmed).Select(row => new Row(
                    row.Find.Id.Value, row.Find.Version, row.Name, row.ScientificName, row.Find.Water, row.Code, row.Number, row.Find.State,
                    LocalTimes.Say(row.Find.FoundAt, zone),
                    row.Find.Deadline is { } deadline ? LocalTimes.Say(deadline, zone) : null,
                    row.Find.Deadline < now && row.Find.State != FindState.NotConfirmed && !log[row.Find.Id].Any(happening => happening.Told is not null),
                    row.FindContact,
                    [.. log[row.Find.Id].Select(happening => new Happening(SpokenTime.At(happening.At, now, zone), happening.Who, Words(happening)))])),
            ],
            viewer.MayChangeFleet());
    }

    private static string Words(FindEvent happening)
    {
        string note = happening.Note is { } text ? $" {text}" : "";
        return happening switch
        {
            { Became: { } state } => $"{SamplingWords.Of(state)}.{note}",
            { Told: { } told } => $"told {told}.{note}",
            _ => note.Trim(),
        };
    }
}
