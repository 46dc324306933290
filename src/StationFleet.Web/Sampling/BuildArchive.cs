using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Reports.Sampling;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Gathers a year's counted samples for a Darwin Core archive. What is not released is not in it.</summary>
internal sealed class BuildArchive(
    IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> fleet, IOptions<SamplingOptions> sampling, FleetPaths paths)
{
    private const string Withheld = "Records that the agency has not released are withheld.";
    private const string Remarks = "Found in water that boaters removed at a cleaning station: a find in a pathway, not a population of the water named. Alive or dead not determined.";

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Built(DarwinCoreData Data) : Outcome;

        /// <summary>Invented data must not get among real ones.</summary>
        internal sealed record Invented : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    private sealed record Looked(SampleId Sample, TaxonId Taxon, LifeStage Stage, int Count, string IdentifiedBy, Confidence Confidence);

    public async Task<Outcome> HandleAsync(Viewer viewer, int? year, CancellationToken cancel)
    {
        if (!viewer.MayExport())
        {
            return new Outcome.NotAllowed();
        }

        if (paths.IsDemo)
        {
            return new Outcome.Invented();
        }

        DateOnly today = LocalCalendar.DateOf(clock.GetUtcNow(), fleet.Value.Zone);
        int shown = year ?? today.Year;
        DateTimeOffset from = LocalCalendar.StartOf(new DateOnly(shown, 1, 1), fleet.Value.Zone);
        DateTimeOffset to = LocalCalendar.StartOf(new DateOnly(shown + 1, 1, 1), fleet.Value.Zone);
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        IQueryable<Sample> some = db.SamplesVisibleTo(viewer)
            .Where(sample => sample.Kind != SampleKind.Blank && sample.TakenAt >= from && sample.TakenAt < to);
        List<Sample> samples = await some.OrderBy(sample => sample.TakenAt).ThenBy(sample => sample.Code).ToListAsync(cancel);
        Dictionary<AccessId, Access> accesses = await db.Accesses.ToDictionaryAsync(access => access.Id, cancel);
        Dictionary<TaxonId, Taxon> taxa = await db.Taxa.ToDictionaryAsync(taxon => taxon.Id, cancel);
        Dictionary<SampleId, double> examinedMl = (await db.SampleAliquots.Where(aliquot => aliquot.RecountOf == null && some.Any(sample => sample.Id == aliquot.SampleId))
            .GroupBy(aliquot => aliquot.SampleId).Select(group => new { group.Key, Ml = group.Sum(aliquot => aliquot.ExaminedMl) }).ToListAsync(cancel))
            .ToDictionary(group => group.Key, group => group.Ml);
        List<Looked> looked = await LookedAsync(db, some, cancel);
        ReleasedOrganisms released = await ReleasedOrganisms.ReadAsync(db, cancel);
        Dictionary<SampleId, Sample> counted = samples.Where(sample => looked.Exists(one => one.Sample == sample.Id)).ToDictionary(sample => sample.Id);
        Dictionary<string, string> takings = counted.Values.GroupBy(sample => sample.TakingKey).ToDictionary(taking => taking.Key, taking => TakingId(taking.First()));
        return new Outcome.Built(new DarwinCoreData(
            string.Create(CultureInfo.InvariantCulture, $"Tank samples of boat-cleaning stations, {fleet.Value.Organization}, {shown}"),
            fleet.Value.Organization, NullIfEmpty(sampling.Value.Contact), NullIfEmpty(sampling.Value.License), today, sampling.Value.DarwinCoreTerms,
            [
                .. counted.Values.GroupBy(sample => sample.TakingKey).Select(taking => Taking(takings[taking.Key], [.. taking], AccessOf(taking.First()))),
                .. counted.Values.Select(sample => Jar(sample, takings[sample.TakingKey], AccessOf(sample))),
            ],
            [
                .. looked.Where(one => counted.ContainsKey(one.Sample)).GroupBy(one => (one.Sample, one.Taxon, one.Stage))
                    .Select(group => Occurrence(counted[group.Key.Sample], AccessOf(counted[group.Key.Sample]), taxa[group.Key.Taxon], [.. group], released)).OfType<DarwinCoreRow>(),
            ],
            [.. counted.Values.SelectMany(sample => Measured(sample, examinedMl.GetValueOrDefault(sample.Id)))]));

        Access? AccessOf(Sample sample) => sample.AccessId is { } id ? accesses[id] : null;
    }

    private static async Task<List<Looked>> LookedAsync(FleetDbContext db, IQueryable<Sample> some, CancellationToken cancel)
    {
        List<Looked> counts = await (
            from count in db.AliquotCounts
            join aliquot in db.SampleAliquots on count.AliquotId equals aliquot.Id
            where aliquot.RecountOf == null && some.Any(sample => sample.Id == aliquot.SampleId)
            orderby count.Id
            select new Looked(aliquot.SampleId, count.TaxonId, count.Stage, count.Count, count.IdentifiedBy, count.Confidence)).ToListAsync(cancel);
        List<PieceFind> pieces = await db.PieceFinds.Where(find => some.Any(sample => sample.Id == find.SampleId)).OrderBy(find => find.Id).ToListAsync(cancel);
        return
        [
            .. counts,
            .. pieces.Select(piece => new Looked(
                piece.SampleId, piece.TaxonId, LifeStage.Any, piece.IsPresent ? Math.Max(1, piece.Pieces ?? 1) : 0, piece.IdentifiedBy, piece.Confidence)),
        ];
    }

    private DarwinCoreRow Taking(string id, IReadOnlyList<Sample> jars, Access? access) => Row(
        id,
        [
            ("eventType", "Survey"), .. When(jars[0]), ("samplingProtocol", "Water and pieces taken from the waste tank of a boat-cleaning station, before it was pumped out"),
            ("samplingEffort", string.Create(CultureInfo.InvariantCulture, $"{jars.Count(jar => jar.Kind == SampleKind.Grab)} independent grabs")), .. Where(access),
        ]);

    private DarwinCoreRow Jar(Sample sample, string taking, Access? access) => Row(
        sample.Code,
        [
            ("parentEventID", taking), ("eventType", "Sample"), .. When(sample),
            ("samplingProtocol", sample.Kind == SampleKind.Grab
                ? sample.MeshUm is { } mesh ? $"Grab poured through a mesh of {Number(mesh)} µm, concentrated, counted in aliquots under a microscope" : "Grab, counted in aliquots under a microscope"
                : "Plants and snails picked out by eye"),
            .. sample.Litres is { } litres ? ((string, string)[])[("sampleSizeValue", Number(litres)), ("sampleSizeUnit", "litre")] : [],
            ("fieldNumber", sample.Code), .. Where(access),
        ]);

    private DarwinCoreRow? Occurrence(Sample sample, Access? access, Taxon taxon, IReadOnlyList<Looked> looked, ReleasedOrganisms released)
    {
        int count = looked.Sum(one => one.Count);
        DateOnly day = LocalCalendar.DateOf(sample.TakenAt, access?.Zone ?? fleet.Value.Zone);
        bool mayBeTold = count > 0 ? released.MayTellPresence(taxon.Id, access?.Water, day) : released.MayTellAbsence(taxon.Id, access?.Water);
        if (!mayBeTold)
        {
            return null;
        }

        (string found, string notFound) = sampling.Value.StatusWords();
        return Row(
            sample.Code,
            [
                ("occurrenceID", string.Create(CultureInfo.InvariantCulture, $"{sample.Code}:{taxon.Id.Value}:{looked[0].Stage}")),
                ("basisOfRecord", "MaterialSample"), ("occurrenceStatus", count > 0 ? found : notFound),
                ("individualCount", count.ToString(CultureInfo.InvariantCulture)), ("organismQuantity", count.ToString(CultureInfo.InvariantCulture)),
                ("organismQuantityType", taxon.CountedAs == CountedAs.Pieces ? "pieces" : "individuals"),
                ("lifeStage", SamplingWords.Of(looked[0].Stage)), ("recordedBy", sample.TakenBy), ("identifiedBy", looked[0].IdentifiedBy),
                ("identificationVerificationStatus", SamplingWords.Of(looked.Max(one => one.Confidence))),
                ("scientificName", taxon.ScientificName), ("taxonRank", taxon.Rank), ("kingdom", taxon.Kingdom), ("vernacularName", taxon.Name),
                ("occurrenceRemarks", Remarks),
            ]);
    }

    private static IEnumerable<DarwinCoreRow> Measured(Sample sample, double examinedMl)
    {
        (string Type, double? Value, string Unit)[] all =
        [
            ("water temperature", sample.WaterTempC, "°C"), ("mesh size", sample.MeshUm, "µm"), ("concentrated volume", sample.ConcentrateMl, "mL"),
            ("tank water examined", sample.Litres is { } litres && examinedMl > 0 ? ExaminedWater.Litres(litres, examinedMl, sample.ConcentrateMl) : null, "L"),
        ];
        return
            from one in all
            where one.Value is not null
            select Row(sample.Code,
            [
                ("measurementID", $"{sample.Code}:{one.Type.Replace(' ', '-')}"), ("measurementType", one.Type), ("measurementValue", Number(one.Value!.Value)), ("measurementUnit", one.Unit),
            ]);
    }

    private static (string, string)[] When(Sample sample) => [("eventDate", sample.TakenAt.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture))];

    private (string, string)[] Where(Access? access) =>
    [
        .. access is null
            ? ((string, string)[])[]
            :
            [
                ("locationID", access.Slug), ("waterBody", access.Water), ("locality", $"{access.Name}: tank of the cleaning station"),
                ("decimalLatitude", access.Latitude.ToString("0.#####", CultureInfo.InvariantCulture)),
                ("decimalLongitude", access.Longitude.ToString("0.#####", CultureInfo.InvariantCulture)), ("geodeticDatum", "EPSG:4326"),
            ],
        ("countryCode", sampling.Value.CountryCode), ("habitat", "water and debris removed from boats"), ("institutionCode", fleet.Value.Organization), ("informationWithheld", Withheld),
    ];

    private static string TakingId(Sample sample) => $"{sample.Code[..sample.Code.LastIndexOf('-')]}-{sample.TakenAt.UtcDateTime.ToString("HHmm", CultureInfo.InvariantCulture)}";

    private static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    private static string? NullIfEmpty(string text) => text.Length == 0 ? null : text;

    private static DarwinCoreRow Row(string id, (string Term, string Value)[] values) =>
        new(id, values.Where(pair => pair.Value.Length > 0).ToDictionary(pair => pair.Term, pair => pair.Value));
}
