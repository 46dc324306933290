using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Puts a kind of organism on an agency's list, or corrects it.</summary>
internal sealed class SaveTaxon(IDbContextFactory<FleetDbContext> databases)
{
    internal sealed class Command
    {
        /// <summary>The taxon to correct; null adds one.</summary>
        public int? Id { get; init; }

        public string Agency { get; set; } = "";

        public string Name { get; set; } = "";

        public string ScientificName { get; set; } = "";

        public string Rank { get; set; } = "species";

        public string Kingdom { get; set; } = "Animalia";

        public string CountedAs { get; set; } = nameof(Domain.Sampling.CountedAs.Aliquots);

        /// <summary>The stage that the key counts.</summary>
        public string Stage { get; set; } = nameof(LifeStage.Any);

        /// <summary>The stage that Shift and the key count; empty without one.</summary>
        public string SecondStage { get; set; } = "";

        public string Key { get; set; } = "";

        public bool IsRetired { get; set; }
    }

    public async Task<SampleAnswer> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => viewer.MayChangeFleet()
        ? await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel)
        : new SampleAnswer.NotAllowed();

    private static async Task<SampleAnswer> SaveAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        TaxonId id = new(command.Id ?? 0);
        Taxon? taxon = await db.Taxa.SingleOrDefaultAsync(row => row.Id == id, cancel);
        if ((command.Id is not null && taxon is null) || (taxon is not null && !ListTaxa.MayChange(viewer, taxon.AgencyId)))
        {
            return new SampleAnswer.NotAllowed();
        }

        Typed typed = new();
        AgencyId agency = taxon?.AgencyId ?? (int.TryParse(command.Agency, out int number) ? new AgencyId(number) : default);
        if (!ListTaxa.MayChange(viewer, agency) || !await db.Agencies.AnyAsync(row => row.Id == agency, cancel))
        {
            typed.Wrong.Note(nameof(Command.Agency), "Choose an agency of yours.");
        }

        string name = typed.Text(nameof(Command.Name), command.Name, 120, "Write what people call it.");
        string scientific = typed.Text(nameof(Command.ScientificName), command.ScientificName, 120, "Write its scientific name.");
        string rank = typed.Text(nameof(Command.Rank), command.Rank, 40, "Write the rank, such as species or genus.");
        string kingdom = typed.Text(nameof(Command.Kingdom), command.Kingdom, 40, "Write the kingdom, such as Animalia or Plantae.");
        if (!Enum.TryParse(command.CountedAs, out CountedAs countedAs) || !Enum.IsDefined(countedAs))
        {
            typed.Wrong.Note(nameof(Command.CountedAs), "Choose one of the list.");
        }

        IReadOnlyList<LifeStage> stages = Stages(typed, command, countedAs);
        string key = await KeyAsync(db, typed, command, agency, countedAs, id, cancel);
        if (await db.Taxa.AnyAsync(row => row.Id != id && row.AgencyId == agency && row.ScientificName == scientific, cancel))
        {
            typed.Wrong.Note(nameof(Command.ScientificName), "This is on the list already.");
        }

        if (typed.Wrong.Count > 0)
        {
            return new SampleAnswer.Refused(typed.Wrong);
        }

        if (taxon is null)
        {
            taxon = new Taxon { AgencyId = agency, Name = name, ScientificName = scientific, Rank = rank, Kingdom = kingdom };
            db.Taxa.Add(taxon);
        }

        (taxon.Name, taxon.ScientificName, taxon.Rank, taxon.Kingdom) = (name, scientific, rank, kingdom);
        (taxon.CountedAs, taxon.Stages, taxon.Key, taxon.IsRetired) = (countedAs, stages, key, command.IsRetired);
        return new SampleAnswer.Saved();
    }

    private static IReadOnlyList<LifeStage> Stages(Typed typed, Command command, CountedAs countedAs)
    {
        if (countedAs == CountedAs.Pieces)
        {
            return [LifeStage.Any];
        }

        if (!Enum.TryParse(command.Stage, out LifeStage first) || !Enum.IsDefined(first))
        {
            typed.Wrong.Note(nameof(Command.Stage), "Choose one of the list.");
        }

        if (command.SecondStage.Length == 0)
        {
            return [first];
        }

        if (!Enum.TryParse(command.SecondStage, out LifeStage second) || !Enum.IsDefined(second) || second == first)
        {
            typed.Wrong.Note(nameof(Command.SecondStage), "Choose another stage than the first, or none.");
        }

        return [first, second];
    }

    private static async Task<string> KeyAsync(
        FleetDbContext db, Typed typed, Command command, AgencyId agency, CountedAs countedAs, TaxonId id, CancellationToken cancel)
    {
        string key = command.Key.Trim().ToLowerInvariant();
        if (countedAs == CountedAs.Pieces)
        {
            return "";
        }

        if (key.Length != 1 || key[0] is < 'a' or > 'z')
        {
            typed.Wrong.Note(nameof(Command.Key), "Choose a letter, a to z, that counts it at the bench.");
        }
        else if (!command.IsRetired && await db.Taxa.FirstOrDefaultAsync(row => row.Id != id && row.AgencyId == agency && row.Key == key && !row.IsRetired, cancel) is { } other)
        {
            typed.Wrong.Note(nameof(Command.Key), $"This key counts {other.Name}.");
        }

        return key;
    }
}
