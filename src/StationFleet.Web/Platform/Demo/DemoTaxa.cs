using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;

namespace StationFleet.Web.Platform.Demo;

/// <summary>What the invented district looks for in its samples.</summary>
internal static class DemoTaxa
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { Converters = { new JsonStringEnumConverter() } };

    private sealed record Known(string Water, DateOnly Since, string Basis);

    private sealed record Kind(
        string Name, string ScientificName, string Rank, string Kingdom, CountedAs CountedAs, IReadOnlyList<LifeStage> Stages, string Key, IReadOnlyList<Known> Known);

    private sealed record TaxaFile(string Agency, string Contact, int Hours, IReadOnlyList<Kind> Taxa);

    public static void Add(FleetDbContext db, IReadOnlyDictionary<string, Agency> agencies)
    {
        string path = Path.Combine(AppContext.BaseDirectory, "demo-data", "taxa.json");
        TaxaFile file = JsonSerializer.Deserialize<TaxaFile>(File.ReadAllText(path), Json) ?? throw new InvalidOperationException($"{path} is empty.");
        Agency agency = agencies[file.Agency];
        (agency.FindContact, agency.FindHours) = (file.Contact, file.Hours);
        foreach (Kind kind in file.Taxa)
        {
            Taxon taxon = new()
            {
                AgencyId = agency.Id, Name = kind.Name, ScientificName = kind.ScientificName, Rank = kind.Rank, Kingdom = kind.Kingdom,
                CountedAs = kind.CountedAs, Stages = kind.Stages, Key = kind.Key,
            };
            db.Add(taxon);
            db.SaveChanges(); // its id
            db.AddRange(kind.Known.Select(known => new KnownTaxon { TaxonId = taxon.Id, Water = known.Water, Since = known.Since, Basis = known.Basis }));
        }
    }
}
