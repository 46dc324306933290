using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Storage.Service;
using StationFleet.Web.Sampling;

namespace StationFleet.Web.Platform.Demo;

/// <summary>
/// Invented samples of the invented past, taken before pump-outs: none found at most waters, hundreds of veligers at Copperline in
/// its high summer. The same past gives the same samples.
/// </summary>
internal static class DemoSamples
{
    private const string Infested = "Copperline Reservoir";
    private const string Found = "Otter Bend Lake";
    private const string Laboratory = "Basin laboratory";
    private const double SampledShare = 0.75;
    private const double PeakPerLitre = 190;
    private const double PeakDay = 190;
    private const double HumpDays = 32;
    private const double Patchiness = 5;
    private static readonly TimeSpan CountedAfter = TimeSpan.FromDays(6);

    /// <summary>What one writing has at hand.</summary>
    private sealed record Scene(FleetDbContext Db, string Technician, string Biologist, IReadOnlyList<Taxon> Taxa, DateTimeOffset Now, NewFinds? Finds);

    /// <summary>Adds the samples of pump-outs that people wrote down.</summary>
    /// <param name="now">What was counted by then has its counts.</param>
    /// <param name="finds">Tells of new finds; null in the older past, where they were settled long ago.</param>
    public static async Task AddAsync(
        FleetDbContext db, IReadOnlyDictionary<string, StationId> stations, DateTimeOffset from, DateTimeOffset to, DateTimeOffset now, NewFinds? finds, CancellationToken cancel)
    {
        await db.SaveChangesAsync(cancel); // what was added before is asked for below
        string technician = (await DemoTickets.TechnicianAsync(db, cancel)).DisplayName;
        string biologist = await db.Users.Where(user => user.Email!.StartsWith("biologist")).Select(user => user.DisplayName).FirstAsync(cancel);
        Scene scene = new(db, technician, biologist, await db.Taxa.AsNoTracking().ToListAsync(cancel), now, finds);
        Dictionary<AccessId, Access> accesses = await db.Accesses.AsNoTracking().ToDictionaryAsync(access => access.Id, cancel);
        List<Placement> placements = await db.Placements.AsNoTracking().ToListAsync(cancel);
        bool isToldOf = finds is null;
        foreach ((string code, StationId station) in stations.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            List<PumpOut> emptied = await db.PumpOuts.AsNoTracking()
                .Where(row => row.StationId == station && row.Source == PumpOutSource.Visit && row.At >= from && row.At < to)
                .OrderBy(row => row.At).ToListAsync(cancel);
            foreach (PumpOut pumpOut in emptied)
            {
                Random random = new(HashCode(code, pumpOut.At));
                DateTimeOffset at = pumpOut.At.AddMinutes(-25);
                if (placements.Find(row => row.StationId == station && row.From <= at && !(row.To <= at)) is not { } placement || random.NextDouble() > SampledShare)
                {
                    continue;
                }

                Access access = accesses[placement.AccessId];
                bool isFind = !isToldOf && access.Water == Found;
                isToldOf |= isFind;
                await TakeAsync(scene, code, station, access, at, isFind, random, cancel);
            }
        }
    }

    private static async Task TakeAsync(
        Scene scene, string code, StationId station, Access access, DateTimeOffset at, bool isFind, Random random, CancellationToken cancel)
    {
        int grabs = random.NextDouble() < 0.7 ? 3 : 1;
        DateOnly day = LocalCalendar.DateOf(at, access.Zone);
        List<Sample> jars = [.. Enumerable.Range(1, grabs).Select(number => Jar(SampleKind.Grab, number))];
        if (random.NextDouble() < 0.4)
        {
            jars.Add(Jar(SampleKind.Blank, 1));
        }

        if (isFind)
        {
            jars.Add(Jar(SampleKind.Pieces, 1));
        }

        scene.Db.AddRange(jars);
        await scene.Db.SaveChangesAsync(cancel);
        double inTankPerLitre = access.Water == Infested ? PerLitre(day) * Math.Exp(0.5 * Normal(random)) : 0;
        foreach (Sample jar in jars)
        {
            Tell(scene, jar, at, SampleEventKind.Taken, scene.Technician, $"Taken {LocalTimes.Say(at, access.Zone)}: {SamplingWords.Of(jar.Kind)}{(jar.Litres is { } litres ? $" of {SampleTexts.Number(litres)} L" : "")}.");
            if (jar.Kind == SampleKind.Pieces)
            {
                await FindAsync(scene, jar, at, cancel);
            }
            else
            {
                HandOver(scene, jar, at, access.Zone);
                await CountAsync(scene, jar, jar.Kind == SampleKind.Blank ? 0 : inTankPerLitre, at, random, cancel);
            }
        }

        Sample Jar(SampleKind kind, int number) => new()
        {
            Code = SampleCode.Of(code, day, kind, number), StationId = station, AccessId = access.Id, Kind = kind, TakingKey = $"demo-{code}-{day:yyMMdd}",
            TakenAt = at, TakenBy = scene.Technician, Litres = kind switch { SampleKind.Grab => 10, SampleKind.Blank => 2, _ => null },
            MeshUm = kind == SampleKind.Pieces ? null : 64, WaterTempC = Math.Round(19 + (2 * Normal(random)), 1), RinseMl = kind == SampleKind.Pieces ? null : 15,
            ConcentrateMl = kind == SampleKind.Pieces ? null : 50, Preservation = kind == SampleKind.Pieces ? Preservation.Cooled : Preservation.Ethanol,
        };
    }

    private static void HandOver(Scene scene, Sample jar, DateTimeOffset at, TimeZoneInfo zone)
    {
        DateTimeOffset handed = at.AddHours(5);
        if (handed > scene.Now)
        {
            return;
        }

        scene.Db.Add(new CustodyStep
        {
            SampleId = jar.Id, At = handed, RelinquishedBy = scene.Technician, ReceivedBy = Laboratory, Seal = $"S-{4000 + jar.Id.Value}", Preservative = "ethanol 70 %, buffered",
            LaboratoryNumber = $"BL-{26000 + jar.Id.Value}", Promised = LocalCalendar.DateOf(at.AddDays(8), zone), IdempotencyKey = $"demo-{jar.Code}",
        });
        Tell(scene, jar, handed, SampleEventKind.HandedOver, scene.Technician, $"From {scene.Technician} to {Laboratory}, {LocalTimes.Say(handed, zone)}.");
    }

    // Five aliquots of 1 mL out of 50 mL of 10 L: one litre of tank water looked through.
    private static async Task CountAsync(Scene scene, Sample jar, double perLitre, DateTimeOffset at, Random random, CancellationToken cancel)
    {
        DateTimeOffset counted = at + CountedAfter;
        if (counted > scene.Now)
        {
            return;
        }

        double grabPerLitre = perLitre * Gamma(Patchiness, random) / Patchiness;
        for (int number = 1; number <= 5; number++)
        {
            SampleAliquot aliquot = new()
            {
                SampleId = jar.Id, Number = number, ExaminedMl = 1, CountedBy = scene.Biologist, CountedAt = counted.AddMinutes(12 * number), IdempotencyKey = $"demo-{jar.Code}-{number}",
            };
            scene.Db.Add(aliquot);
            await scene.Db.SaveChangesAsync(cancel); // its id
            List<string> told = [];
            foreach ((Taxon taxon, LifeStage stage) in scene.Taxa.Where(taxon => taxon.CountedAs == CountedAs.Aliquots).SelectMany(taxon => taxon.Stages.Select(stage => (taxon, stage))))
            {
                int count = stage == LifeStage.Veliger ? Poisson(grabPerLitre * (jar.Litres ?? 0) / 50, random) : 0;
                told.Add($"{SamplingWords.Named(taxon.Name, stage)} {count}");
                scene.Db.Add(new AliquotCount { AliquotId = aliquot.Id, TaxonId = taxon.Id, Stage = stage, Count = count, IdentifiedBy = scene.Biologist, Confidence = Confidence.Certain });
            }

            Tell(scene, jar, aliquot.CountedAt, SampleEventKind.Counted, scene.Biologist, $"Aliquot {number}, 1 mL of 50 mL: {string.Join("; ", told)}.");
        }
    }

    private static async Task FindAsync(Scene scene, Sample jar, DateTimeOffset at, CancellationToken cancel)
    {
        Taxon plant = scene.Taxa.First(taxon => taxon.Name == "Eurasian watermilfoil");
        scene.Db.Add(new PieceFind
        {
            SampleId = jar.Id, TaxonId = plant.Id, IsPresent = true, Pieces = 3, WeightG = 2.4, IdentifiedBy = scene.Technician, Confidence = Confidence.Probable,
        });
        Tell(scene, jar, at.AddHours(2), SampleEventKind.Counted, scene.Technician, $"{plant.Name}: present, 3 pieces, 2.4 g, identified by {scene.Technician}, probable.");
        await scene.Finds!.RaiseAsync(scene.Db, jar, [plant.Id], scene.Technician, at.AddHours(2), cancel);
    }

    private static void Tell(Scene scene, Sample jar, DateTimeOffset at, SampleEventKind kind, string who, string what) =>
        scene.Db.Add(new SampleEvent { SampleId = jar.Id, At = at, Kind = kind, Who = who, What = what });

    private static double PerLitre(DateOnly day) => PeakPerLitre * Math.Exp(-Math.Pow((day.DayOfYear - PeakDay) / HumpDays, 2));

    // The runtime's own hash differs from run to run.
    private static int HashCode(string code, DateTimeOffset at) => code.Aggregate((int)(at.ToUnixTimeSeconds() % 1_000_003), (hash, c) => unchecked((hash * 31) + c));

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static double Gamma(double shape, Random random)
    {
        double sum = 0;
        for (int i = 0; i < (int)shape; i++)
        {
            sum -= Math.Log(1 - random.NextDouble());
        }

        return sum;
    }

    private static int Poisson(double mean, Random random)
    {
        int count = -1;
        for (double left = mean; left >= 0; count++)
        {
            left += Math.Log(1 - random.NextDouble());
        }

        return count;
    }
}
