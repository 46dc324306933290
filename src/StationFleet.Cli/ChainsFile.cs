using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;

namespace StationFleet.Cli;

/// <summary>Uses and boats that a person counted in one shift.</summary>
internal sealed record CountShift(int Boats, int Uses);

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

    /// <summary>Count shifts, for uses per boat.</summary>
    public IReadOnlyList<CountShift> CountShifts { get; init; } = [];

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
            .. chains.CountShifts.Where(shift => shift.Boats < 0 || shift.Uses < 0).Select(_ => "A count shift has a number below 0."),
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
