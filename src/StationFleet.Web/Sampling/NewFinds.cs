using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Duty;

namespace StationFleet.Web.Sampling;

/// <summary>Raises a ticket and a mail to the biologist, in the transaction that stores a count, when a taxon is not known from the water.</summary>
internal sealed class NewFinds(CallPeople call)
{
    /// <summary>The finds of the samples that a person sees.</summary>
    public static IQueryable<NewFind> VisibleTo(FleetDbContext db, Viewer viewer) =>
        db.NewFinds.Where(find => db.SamplesVisibleTo(viewer).Any(sample => sample.Id == find.SampleId));

    /// <summary>Looks whether anything found in a sample is new, and tells of it.</summary>
    /// <param name="db">The database, within the transaction.</param>
    /// <param name="sample">The sample; a blank says nothing of the water.</param>
    /// <param name="found">The taxa that were there.</param>
    /// <param name="who">Who found them.</param>
    /// <param name="now">The present instant.</param>
    /// <param name="cancel">Stops it.</param>
    public async Task RaiseAsync(FleetDbContext db, Sample sample, IReadOnlyCollection<TaxonId> found, string who, DateTimeOffset now, CancellationToken cancel)
    {
        if (sample.Kind == SampleKind.Blank)
        {
            return;
        }

        Access? access = await db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Id == sample.AccessId, cancel);
        string water = access?.Water ?? NewFind.NoWater;
        foreach (TaxonId id in found.Distinct())
        {
            DateOnly day = LocalCalendar.DateOf(sample.TakenAt, access?.Zone ?? TimeZoneInfo.Utc);
            if (await db.KnownTaxa.AnyAsync(known => known.TaxonId == id && known.Water == water && known.Since <= day, cancel))
            {
                continue;
            }

            NewFind? open = await db.NewFinds.FirstOrDefaultAsync(
                find => find.TaxonId == id && find.Water == water && find.State != FindState.NotConfirmed && find.State != FindState.Releasable, cancel);
            if (open is not null)
            {
                await NoteAgainAsync(db, open, sample, who, now, cancel);
                continue;
            }

            await AddAsync(db, sample, id, water, who, now, cancel);
        }
    }

    private static async Task NoteAgainAsync(FleetDbContext db, NewFind open, Sample sample, string who, DateTimeOffset now, CancellationToken cancel)
    {
        string note = $"Seen in sample {sample.Code} too.";
        if (open.SampleId != sample.Id && !await db.FindEvents.AnyAsync(happening => happening.FindId == open.Id && happening.Note == note, cancel))
        {
            db.FindEvents.Add(new FindEvent { FindId = open.Id, At = now, Who = who, Note = note });
        }
    }

    private async Task AddAsync(
        FleetDbContext db, Sample sample, TaxonId id, string water, string who, DateTimeOffset now, CancellationToken cancel)
    {
        Taxon taxon = await db.Taxa.AsNoTracking().SingleAsync(row => row.Id == id, cancel);
        Agency agency = await db.Agencies.AsNoTracking().SingleAsync(row => row.Id == taxon.AgencyId, cancel);
        Station station = await db.Stations.AsNoTracking().SingleAsync(row => row.Id == sample.StationId, cancel);
        DateTimeOffset? deadline = agency.FindHours is { } hours ? now.AddHours(hours) : null;
        NewFindEvidence evidence = new(taxon.Name, water, sample.Code, deadline, agency.FindContact);
        string part = FormattableString.Invariant($"taxon-{id.Value}");
        Ticket? ticket = await db.Tickets.FirstOrDefaultAsync(
            row => row.StationId == station.Id && row.Rule == Rule.NewFind && row.Part == part && row.State != TicketState.Closed, cancel);
        bool isNewTicket = ticket is null;
        if (ticket is null)
        {
            ticket = new Ticket
            {
                Number = (await db.Tickets.MaxAsync(row => (int?)row.Number, cancel) ?? 0) + 1,
                StationId = station.Id, AccessId = sample.AccessId, Rule = Rule.NewFind, Part = part, State = TicketState.New, Raised = now,
                Evidence = WatchJson.Write<Evidence>(evidence),
            };
            db.Tickets.Add(ticket);
            await db.SaveChangesAsync(cancel); // its id
            db.TicketEvents.Add(new TicketEvent { TicketId = ticket.Id, At = now, Kind = TicketEventKind.Raised });
        }

        NewFind find = new()
        {
            TaxonId = id, Water = water, SampleId = sample.Id, TicketId = ticket.Id, FoundAt = now, Deadline = deadline, State = FindState.Presumptive,
        };
        db.NewFinds.Add(find);
        await db.SaveChangesAsync(cancel);
        db.FindEvents.Add(new FindEvent { FindId = find.Id, At = now, Who = who, Became = FindState.Presumptive, Note = $"Found in sample {sample.Code}." });
        if (isNewTicket)
        {
            await db.SaveChangesAsync(cancel);
            await call.HandleAsync(db, now, cancel);
        }
    }
}
