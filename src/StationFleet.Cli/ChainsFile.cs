using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;

namespace StationFleet.Cli;

/// <summary>What a person counted in one shift: boats whose people used the station, tool uses, and, if told, all boats that left.</summary>
internal sealed record CountShift(int Boats, int Uses, int? Leaving = null)
{
    public IEnumerable<string> Faults()
    {
        if (Boats < 0 || Uses < 0 || Leaving < 0)
        {
            yield return "A count shift has a number below 0.";
        }
        else if (Leaving < Boats)
        {
            yield return "In a count shift more boats used the station than left.";
        }
    }
}

/// <summary>A season to be planned: docs/estimates.md, Planning.</summary>
internal sealed record SeasonToPlan(
    IReadOnlyList<ExpectedPumpOut> PumpOuts, double Budget, double CostPerSample, double BetweenCv = 1, double WithinCv = 0.4)
{
    public IEnumerable<string> Faults()
    {
        if (!(Budget >= 0 && CostPerSample > 0 && BetweenCv >= 0 && WithinCv >= 0))
        {
            yield return "A plan's budget and variations must be 0 or more, and a sample must cost something.";
        }

        if (PumpOuts.Any(one => !(one.Litres > 0 && one.PerLitre >= 0)))
        {
            yield return "An expected pump-out needs litres above 0 and organisms of 0 or more.";
        }

        if (PumpOuts.Select(one => one.Day.Year).Distinct().Count() > 1)
        {
            yield return "A plan's pump-outs must lie in one year.";
        }
    }
}

/// <summary>A tank whose sample is planned.</summary>
internal sealed record TankToPlan(string Taxon, double PerLitre, double LitresPerGrab, double VolumeLnSd = 0.05, string? LifeStage = null)
{
    public IEnumerable<string> Faults() => PerLitre > 0 && LitresPerGrab > 0 && VolumeLnSd >= 0
        ? []
        : ["A tank to plan needs organisms in a litre and litres in a grab above 0, and an uncertainty of 0 or more."];
}

/// <summary>Counting chains as a file; docs/chains-file.schema.json describes it.</summary>
/// <param name="Periods">Tank periods of one water, sampled or not.</param>
internal sealed record ChainsFile(IReadOnlyList<TankPeriod> Periods)
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        PropertyNameCaseInsensitive = false,
        NumberHandling = JsonNumberHandling.Strict,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    /// <summary>The units of sentences.</summary>
    public UnitSystem Units { get; init; } = UnitSystem.Metric;

    /// <summary>Groups of organisms that share their patchiness, by taxon.</summary>
    public IReadOnlyDictionary<string, string> Groups { get; init; } = new Dictionary<string, string>();

    /// <summary>Count shifts, for uses per boat and the share of leaving boats.</summary>
    public IReadOnlyList<CountShift> CountShifts { get; init; } = [];

    /// <summary>A season whose samples are to be planned.</summary>
    public SeasonToPlan? PlanSeason { get; init; }

    /// <summary>Tanks whose grabs are to be planned.</summary>
    public IReadOnlyList<TankToPlan> PlanTanks { get; init; } = [];

    public static ChainsFile Load(FileInfo file)
    {
        if (!file.Exists)
        {
            throw new VerbFailure(ExitCodes.WrongUse, $"There is no file {file.FullName}.");
        }

        ChainsFile chains = Parse(file);
        List<string> faults =
        [
            .. chains.Periods.CountBy(period => period.Id).Where(id => id.Value > 1).Select(id => $"Two periods have the name {id.Key}."),
            .. chains.Periods.SelectMany(period => period.Faults()),
            .. chains.CountShifts.SelectMany(shift => shift.Faults()),
            .. chains.PlanSeason?.Faults() ?? [],
            .. chains.PlanTanks.SelectMany(tank => tank.Faults()),
        ];
        return faults switch
        {
            [] => chains,
            [var only] => throw new VerbFailure(ExitCodes.Failed, only),
            _ => throw new VerbFailure(ExitCodes.Failed, $"{faults[0]} ({faults.Count - 1} more faults.)"),
        };
    }

    /// <summary>The group of an organism, or its own name.</summary>
    public string GroupOf(Organism organism) => Groups.GetValueOrDefault(organism.Taxon) ?? $"{organism.Taxon}/{organism.LifeStage}";

    private static ChainsFile Parse(FileInfo file)
    {
        try
        {
            using FileStream stream = file.OpenRead();
            return JsonSerializer.Deserialize<ChainsFile>(stream, Options) ?? throw new VerbFailure(ExitCodes.Failed, $"{file.Name} holds null.");
        }
        catch (JsonException fault)
        {
            string where = fault.LineNumber is { } line ? $", line {line + 1}, {fault.Path}" : "";
            string what = fault.Message.Split(" Path:")[0].Split(" LineNumber:")[0].TrimEnd('.');

            // The names of our types tell the reader nothing.
            bool isOfOurTypes = what.Contains("could not be converted", StringComparison.Ordinal);
            throw new VerbFailure(ExitCodes.Failed, $"{file.Name}{where}: {(isOfOurTypes ? "this is not what docs/chains-file.schema.json describes" : what)}.");
        }
    }
}
