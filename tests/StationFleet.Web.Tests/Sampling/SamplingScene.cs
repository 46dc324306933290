using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;
using StationFleet.Web.Tests.Service;

namespace StationFleet.Web.Tests.Sampling;

/// <summary>A station at Copperline with a tank, and what its agency looks for.</summary>
internal static class SamplingScene
{
    public static async Task<Station> AddSampledStationAsync(this FleetApp app, string code)
    {
        Station station = await app.Databases.AddStationAsync(code);
        Access access = await app.ReadAsync(db => db.Accesses.FirstOrDefaultAsync()) ?? await app.Databases.AddAccessAsync();
        await app.Databases.AddPlacementAsync(station, access);
        await app.Databases.AddAsync(new StationTank { StationId = station.Id, From = station.Created, CapacityLitres = 208 });
        return station;
    }

    public static async Task<Taxon> TaxonAsync(this FleetApp app, string name, CountedAs countedAs = CountedAs.Aliquots, string? knownFrom = null)
    {
        Agency agency = await app.Databases.AddAgencyAsync();
        if (await app.ReadAsync(db => db.Taxa.AsNoTracking().FirstOrDefaultAsync(taxon => taxon.Name == name)) is { } present)
        {
            return present;
        }

        Taxon taxon = await app.Databases.AddAsync(new Taxon
        {
            AgencyId = agency.Id, Name = name, ScientificName = $"{name} scientifica", Rank = "species", Kingdom = "Animalia", CountedAs = countedAs,
            Stages = countedAs == CountedAs.Aliquots ? [LifeStage.Veliger, LifeStage.Juvenile] : [LifeStage.Any],
            Key = countedAs == CountedAs.Aliquots ? name[..1].ToLowerInvariant() : "",
        });
        if (knownFrom is not null)
        {
            await app.Databases.AddAsync(new KnownTaxon { TaxonId = taxon.Id, Water = knownFrom, Since = new DateOnly(2024, 7, 1), Basis = "agency" });
        }

        return taxon;
    }

    public static Task<Sample[]> SamplesAsync(this FleetApp app, Station station) => app.ReadAsync(db => db.Samples.AsNoTracking()
        .Where(sample => sample.StationId == station.Id).OrderBy(sample => sample.Code).ToArrayAsync());

    public static Task<SampleEvent[]> HistoryAsync(this FleetApp app, SampleId sample) => app.ReadAsync(db => db.SampleEvents.AsNoTracking()
        .Where(happening => happening.SampleId == sample).OrderBy(happening => happening.Id).ToArrayAsync());

    public static Task<Sample> AddSampleAsync(
        this FleetApp app, Station station, string code, SampleKind kind = SampleKind.Grab, double? litres = 10, double? concentrateMl = 50,
        DateTimeOffset? takenAt = null, string taking = "taking") => app.Databases.AddAsync(new Sample
        {
            Code = code, StationId = station.Id, AccessId = new Domain.Fleet.AccessId(1), Kind = kind, TakingKey = $"{taking}-{station.Code}", TakenAt = takenAt ?? FleetApp.Start.AddHours(-1),
            TakenBy = "field crew", Litres = litres, MeshUm = 64, ConcentrateMl = concentrateMl, Preservation = Preservation.Ethanol,
        });

    public static Task<PumpOut> AddPumpOutAsync(this FleetApp app, Station station, DateTimeOffset at, double litres = 150) =>
        app.Databases.AddAsync(new PumpOut { StationId = station.Id, At = at, Litres = litres, Source = PumpOutSource.Visit });
}
