using StationFleet.Domain.Simulation;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Sampling;

/// <summary>How a season's tanks are sampled, for trying the season's figure.</summary>
/// <param name="Name">What it is called in the table.</param>
/// <param name="Months">How many tanks each month has; the tanks of one month lie in one stratum.</param>
/// <param name="Sampled">How many of them are sampled, drawn at random within the month.</param>
/// <param name="IsHump">Whether the concentration rises to the middle of the season and falls again, or stays level.</param>
public sealed record SeasonDesign(string Name, IReadOnlyList<int> Months, int Sampled, bool IsHump)
{
    /// <summary>The designs of the table in docs/estimates.md.</summary>
    public static IReadOnlyList<SeasonDesign> All { get; } =
    [
        new("one month of 10 tanks, 5 sampled", [10], 5, false),
        new("6 months of 3 tanks, 2 sampled in each", [3, 3, 3, 3, 3, 3], 2, true),
        new("6 months of 2 tanks, 1 sampled in each", [2, 2, 2, 2, 2, 2], 1, true),
        new("6 months of 3 tanks, all sampled", [3, 3, 3, 3, 3, 3], 3, true),
    ];
}

/// <summary>How often the season's interval held the truth.</summary>
/// <param name="Design">The design.</param>
/// <param name="BetweenCv">How much tanks of one month differ: standard deviation ÷ mean.</param>
/// <param name="PerLitre">Mean organisms in a litre over the season.</param>
/// <param name="Runs">Invented seasons.</param>
/// <param name="Covered">Those whose truth lay within the interval at 95 %.</param>
public sealed record SeasonCell(SeasonDesign Design, double BetweenCv, double PerLitre, int Runs, int Covered)
{
    /// <summary>The share covered, with bounds at 95 % for the luck of the simulation.</summary>
    public Bounded Share => Bounds.ScoreShare(Covered, Runs);
}

/// <summary>Tries the season's figure on invented seasons whose truth is known.</summary>
/// <remarks>
/// Three grabs of a litre in each sampled tank, patchiness k = 5 learnt from them, tanks of 60 to 140 L known to 5 %, concentrations
/// lognormal within a month.
/// </remarks>
public static class SeasonCoverage
{
    private const int PatchSize = 5;
    private const int Grabs = 3;
    private const double VolumeSd = 0.05;
    private static readonly Organism Any = new("any");
    private static readonly double[] Hump = [0.2, 0.8, 2, 2, 0.8, 0.2];

    /// <summary>How much tanks of a month differ in the table.</summary>
    public static IReadOnlyList<double> BetweenCvs { get; } = [0.5, 1, 2];

    /// <summary>Mean organisms in a litre in the table.</summary>
    public static IReadOnlyList<double> Concentrations { get; } = [0.1, 1, 10];

    /// <summary>Tries one design.</summary>
    /// <param name="design">The design.</param>
    /// <param name="betweenCv">How much tanks of one month differ.</param>
    /// <param name="perLitre">Mean organisms in a litre.</param>
    /// <param name="runs">How many seasons to invent.</param>
    /// <param name="seed">The same seed gives the same result.</param>
    public static SeasonCell Try(SeasonDesign design, double betweenCv, double perLitre, int runs, long seed)
    {
        ArgumentNullException.ThrowIfNull(design);
        string key = FormattableString.Invariant($"season|{design.Name}|{betweenCv}|{perLitre}");
        int covered = 0;
        for (int run = 0; run < runs; run++)
        {
            Dice dice = Dice.For(seed, key, run);
            List<Tank> tanks = [.. Invent(design, betweenCv, perLitre, dice)];
            Patchiness patchiness = Patchiness.From(tanks.Where(tank => tank.Counts is not null).Select(tank => tank.Counts!.Replicates));
            SeasonTotal total = SeasonExpansion.Of(Any, [.. tanks.Select(tank => tank.Metered(patchiness))]);
            double truth = tanks.Sum(tank => tank.PerLitre * tank.Litres);
            covered += total.Estimate is { } estimate && estimate.Low <= truth && truth <= estimate.High ? 1 : 0;
        }

        return new SeasonCell(design, betweenCv, perLitre, runs, covered);
    }

    private static IEnumerable<Tank> Invent(SeasonDesign design, double betweenCv, double perLitre, Dice dice)
    {
        double variance = Math.Log(1 + (betweenCv * betweenCv));
        for (int month = 0; month < design.Months.Count; month++)
        {
            int left = design.Sampled;
            for (int i = 0; i < design.Months[month]; i++)
            {
                double mean = perLitre * (design.IsHump ? Hump[month] : 1) * Math.Exp((Math.Sqrt(variance) * dice.Normal()) - (variance / 2));
                double litres = dice.Between(60, 140);
                double measured = litres * Math.Exp(VolumeSd * dice.Normal());
                bool isSampled = dice.Chance((double)left / (design.Months[month] - i));
                left -= isSampled ? 1 : 0;
                yield return new Tank(month + 1, mean, litres, measured, isSampled
                    ? new CountedGrabs([.. Enumerable.Range(0, Grabs).Select(_ => new GrabCount("", dice.Poisson(dice.Erlang(PatchSize, mean)), 1, 1))])
                    : null);
            }
        }
    }

    private sealed record Tank(int Month, double PerLitre, double Litres, double MeasuredLitres, CountedGrabs? Counts)
    {
        public MeteredPeriod Metered(Patchiness patchiness)
        {
            CollectedWater water = new(MeasuredLitres, VolumeSd * MeasuredLitres, 0);
            TankPeriod period = new("P", "S", DateOnly.MinValue, DateOnly.MinValue, water, [], []);
            return new MeteredPeriod(Month, water, Counts is null ? null : RemovalEstimate.Of(period, Any, Counts, patchiness) as RemovalEstimate.Made);
        }
    }
}
