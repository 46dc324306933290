using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Service;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>The log of samples of a year: what waits, what is overdue, and which tanks should be sampled before their next pump-out.</summary>
public sealed class ListSamples(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private static readonly TimeSpan SampledWithin = TimeSpan.FromDays(370);

    /// <param name="Where">Access and water; null in transit.</param>
    /// <param name="Stand">How far it is, in words.</param>
    /// <param name="Found">What was found, in words; empty until it is counted.</param>
    public sealed record Row(
        string Code, string Station, string? Where, SampleKind Kind, string Taken, string Stand, string Found, bool IsWaiting, bool IsOverdue);

    /// <summary>A tank whose present water nobody has sampled.</summary>
    /// <param name="Ticket">The open ticket to pump it out; null when there is none.</param>
    public sealed record DueTank(string Station, string? Where, string Since, int? Ticket);

    /// <param name="OpenFinds">New finds that are not decided.</param>
    public sealed record View(
        int Year, IReadOnlyList<int> Years, IReadOnlyList<Row> Rows, IReadOnlyList<DueTank> Due, int OpenFinds, bool MaySample, bool MayExport)
    {
        public int Waiting => Rows.Count(row => row.IsWaiting);

        public int Overdue => Rows.Count(row => row.IsOverdue);
    }

    public async Task<View> HandleAsync(Viewer viewer, int? year, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        int thisYear = LocalCalendar.DateOf(now, options.Value.Zone).Year;
        int shown = year ?? thisYear;
        DateTimeOffset from = LocalCalendar.StartOf(new DateOnly(shown, 1, 1), options.Value.Zone);
        DateTimeOffset to = LocalCalendar.StartOf(new DateOnly(shown + 1, 1, 1), options.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        IQueryable<Sample> visible = db.SamplesVisibleTo(viewer);
        DateTimeOffset? first = await visible.MinAsync(sample => (DateTimeOffset?)sample.TakenAt, cancel);
        int firstYear = first is { } oldest ? LocalCalendar.DateOf(oldest, options.Value.Zone).Year : thisYear;
        return new View(
            shown,
            [.. Enumerable.Range(firstYear, thisYear - firstYear + 1).Reverse()],
            await RowsAsync(db, visible.Where(sample => sample.TakenAt >= from && sample.TakenAt < to), now, cancel),
            await DueAsync(db, viewer, now, cancel),
            await NewFinds.VisibleTo(db, viewer).CountAsync(find => find.State == FindState.Presumptive || find.State == FindState.Confirmed, cancel),
            viewer.MaySample(),
            viewer.MayExport());
    }

    private async Task<IReadOnlyList<Row>> RowsAsync(FleetDbContext db, IQueryable<Sample> samples, DateTimeOffset now, CancellationToken cancel)
    {
        var rows = await samples.OrderByDescending(sample => sample.TakenAt).ThenBy(sample => sample.Code).Select(sample => new
        {
            sample.Id, sample.Code, sample.Kind, sample.TakenAt, sample.AccessId,
            Station = db.Stations.Where(station => station.Id == sample.StationId).Select(station => station.Code).First(),
            Aliquots = db.SampleAliquots.Count(aliquot => aliquot.SampleId == sample.Id),
        }).ToListAsync(cancel);
        Dictionary<AccessId, Access> accesses = await db.Accesses.ToDictionaryAsync(access => access.Id, cancel);
        ILookup<SampleId, CustodyStep> custody = (await db.CustodySteps.Where(step => samples.Any(sample => sample.Id == step.SampleId))
            .OrderBy(step => step.At).ThenBy(step => step.Id).ToListAsync(cancel)).ToLookup(step => step.SampleId);
        ILookup<SampleId, Found> counted = (await (
            from count in db.AliquotCounts
            join aliquot in db.SampleAliquots on count.AliquotId equals aliquot.Id
            where aliquot.RecountOf == null && samples.Any(sample => sample.Id == aliquot.SampleId)
            join taxon in db.Taxa on count.TaxonId equals taxon.Id
            select new Found(aliquot.SampleId, taxon.Name, count.Stage, count.Count)).ToListAsync(cancel)).ToLookup(one => one.Sample);
        ILookup<SampleId, Picked> picked = (await (
            from find in db.PieceFinds
            where samples.Any(sample => sample.Id == find.SampleId)
            join taxon in db.Taxa on find.TaxonId equals taxon.Id
            select new Picked(find.SampleId, taxon.Name, find.IsPresent)).ToListAsync(cancel)).ToLookup(one => one.Sample);
        return
        [
            .. rows.Select(row =>
            {
                Access? access = row.AccessId is { } id ? accesses[id] : null;
                CustodyStep? last = custody[row.Id].LastOrDefault();
                TimeZoneInfo zone = access?.Zone ?? options.Value.Zone;
                bool isCounted = row.Aliquots > 0 || picked[row.Id].Any();
                bool isOverdue = !isCounted && last?.Promised < LocalCalendar.DateOf(now, zone);
                return new Row(
                    row.Code, row.Station, access is null ? null : $"{access.Name}, {access.Water}", row.Kind,
                    LocalTimes.Say(row.TakenAt, zone),
                    isCounted ? "counted" : SampleTexts.Waiting(last, isOverdue),
                    isCounted ? SampleTexts.Found(counted[row.Id], picked[row.Id]) : "",
                    !isCounted, isOverdue);
            }),
        ];
    }

    // What is pumped out unsampled cannot be sampled any more.
    private static async Task<IReadOnlyList<DueTank>> DueAsync(FleetDbContext db, Viewer viewer, DateTimeOffset now, CancellationToken cancel)
    {
        var stations = await db.Stations.VisibleTo(viewer)
            .Where(station => db.StationTanks.Any(tank => tank.StationId == station.Id && tank.From <= now))
            .Where(station => !db.WinterStorages.Any(winter => winter.StationId == station.Id && winter.From <= now && (winter.To == null || winter.To > now)))
            .OrderBy(station => station.Code)
            .Select(station => new
            {
                station.Id, station.Code,
                Ticket = db.Tickets.Where(ticket => ticket.StationId == station.Id && ticket.Rule == Rule.TankFilling && ticket.State != TicketState.Closed)
                    .Select(ticket => (int?)ticket.Number).FirstOrDefault(),
                Sampled = db.Samples.Where(sample => sample.StationId == station.Id && sample.Kind == SampleKind.Grab && sample.TakenAt > now - SampledWithin)
                    .Max(sample => (DateTimeOffset?)sample.TakenAt),
            }).ToListAsync(cancel);
        IReadOnlyDictionary<StationId, Access> standing = await db.StandingAtAsync(now, cancel);
        List<DueTank> due = [];
        foreach (var station in stations)
        {
            if (!standing.TryGetValue(station.Id, out Access? access))
            {
                continue;
            }

            TankWater water = (await TankWaters.ReadAsync(db, station.Id, withUncertainty: false, cancel)).At(now);
            if (water.Since is { } since && station.Sampled > since + TankWater.SampledBefore)
            {
                continue;
            }

            if (water.Since is null && station.Sampled is not null)
            {
                continue;
            }

            TimeZoneInfo zone = access.Zone;
            due.Add(new DueTank(
                station.Code, $"{access.Name}, {access.Water}",
                water.Since is { } emptied ? $"gathering since {SpokenTime.At(emptied, now, zone)}" : "never emptied yet", station.Ticket));
        }

        return [.. due.OrderBy(tank => tank.Ticket is null)];
    }

    internal sealed record Found(SampleId Sample, string Taxon, LifeStage Stage, int Count);

    internal sealed record Picked(SampleId Sample, string Taxon, bool IsPresent);
}
