using StationFleet.Domain.Sampling;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Seasons;

/// <summary>One kind of organism in the water that stations collected beside one water.</summary>
/// <param name="Year">The calendar year: days that touch two years have a figure for each.</param>
/// <param name="Water">The water beside which the stations stood.</param>
/// <param name="Total">How many were in the collected water, and how that is known.</param>
/// <param name="Months">How many were in a litre, by month.</param>
public sealed record SeasonRemoval(int Year, string Water, SeasonTotal Total, MonthRanking Months)
{
    /// <summary>The share of the collected water that was sampled, 0 to 1; null when none was collected.</summary>
    public double? ShareSampled => Total.Litres > 0 ? Total.SampledLitres / Total.Litres : null;

    /// <summary>The organism's name, with its stage.</summary>
    public string Name => Total.Organism.LifeStage is { } stage ? $"{Total.Organism.Taxon}, {stage}" : Total.Organism.Taxon;

    /// <summary>Whether the difference from a year before is more than chance.</summary>
    /// <param name="before">The figure of the same organism and water a year before.</param>
    /// <remarks>The ratio's 95 % limits leave out 1. Figures that speak for other months are not compared.</remarks>
    public ChangeVerdict Beside(SeasonRemoval before)
    {
        ArgumentNullException.ThrowIfNull(before);
        return Total.Estimate is { } now && before.Total.Estimate is { } then && Total.MonthsCovered.SequenceEqual(before.Total.MonthsCovered)
            && Mover.Ratio(now, then) is { } ratio
                ? ratio.Low > 1 || ratio.High < 1 ? ChangeVerdict.MoreThanNoise : ChangeVerdict.WithinNoise
                : ChangeVerdict.NotTested;
    }
}

/// <summary>Makes a season's removal figures from the tanks' waters.</summary>
public static class SeasonRemovals
{
    // The newest level of these days stands for that at an edge.
    private static readonly TimeSpan LevelHolds = TimeSpan.FromDays(3);

    /// <summary>The figures of every water and organism that was looked for in it.</summary>
    /// <param name="input">The season and its stations.</param>
    /// <param name="periods">Tank waters of all stations in the years that the season touches: patchiness is learnt from all of them.</param>
    /// <param name="mayTell">Whether an organism may be told of a water on a day; the last tells whether it was found there.</param>
    /// <remarks>
    /// A water that straddles an edge is split by what flowed in on each side, read off the tank's level; where no level is known, it
    /// counts where it ended. The samples speak for both parts.
    /// </remarks>
    public static IReadOnlyList<SeasonRemoval> Of(
        SeasonInput input, IReadOnlyList<PlacedPeriod> periods, Func<Organism, string, DateOnly, bool, bool> mayTell)
    {
        ArgumentNullException.ThrowIfNull(input);
        ArgumentNullException.ThrowIfNull(periods);
        ArgumentNullException.ThrowIfNull(mayTell);
        Dictionary<string, SeasonStation> stations = input.Stations.ToDictionary(station => station.Setup.Code, StringComparer.Ordinal);
        (TankPeriod Whole, TankPeriod? Here, string? Place)[] cut =
        [
            .. periods.Select(placed => (placed.Period, Here: stations.TryGetValue(placed.Period.Station, out SeasonStation? station) && placed.Place is not null
                ? Cut(placed, station, input)
                : null, placed.Place)),
        ];
        ILookup<TankPeriod, RemovalEstimate> estimates = SeasonEstimates.Of(cut.Select(period => period.Here ?? period.Whole)).ToLookup(estimate => estimate.Period);
        return
        [
            .. from one in cut
               where one.Here is not null
               group one.Here by (one.Here.Year, Water: one.Place!) into water
               let made = water.SelectMany(period => estimates[period]).ToArray()
               from organism in made.GroupBy(estimate => estimate.Organism)
               let found = organism.Any(estimate => estimate.Grabs.Count > 0)
               where mayTell(organism.Key, water.Key.Water, LastDay(input, water.Key.Year), found)
               let total = SeasonTotal.Of(organism.Key, water, organism)
               orderby water.Key.Year, water.Key.Water, total.MeasuredPart.Value descending, organism.Key.Taxon, organism.Key.LifeStage
               select new SeasonRemoval(water.Key.Year, water.Key.Water, total, MonthRanking.Of(organism.Key, MonthMeasure.Concentration, [.. water])),
        ];
    }

    private static DateOnly LastDay(SeasonInput input, int year) =>
        new[] { input.Season.LastDay, DateOnly.FromDateTime(input.AsOf.UtcDateTime), new DateOnly(year, 12, 31) }.Min();

    private static TankPeriod? Cut(PlacedPeriod placed, SeasonStation station, SeasonInput input)
    {
        TankPeriod period = placed.Period;
        if (input.Season.Window(station.Setup.Zone, input.AsOf) is not { } window)
        {
            return null;
        }

        IReadOnlyList<UtcInterval> counted = station.Counted(window);
        if (period.Water is not { } water)
        {
            return counted.Any(span => (placed.Water.Since ?? DateTimeOffset.MinValue) < span.End && (placed.Water.Until ?? DateTimeOffset.MaxValue) > span.Start)
                ? period
                : null;
        }

        double share = counted.Sum(span => InBy(placed.Water, water, station, span.End) - InBy(placed.Water, water, station, span.Start));
        return share <= 0 ? null : period with
        {
            From = period.From < input.Season.FirstDay ? input.Season.FirstDay : period.From,
            To = period.To > input.Season.LastDay ? input.Season.LastDay : period.To,
            Water = water with { Litres = share * water.Litres, SdLitres = share * water.SdLitres },
        };
    }

    // The share of a water that had flowed in by an instant.
    private static double InBy(TankWater tank, CollectedWater water, SeasonStation station, DateTimeOffset at)
    {
        if (at >= tank.Until)
        {
            return 1;
        }

        return at > (tank.Since ?? DateTimeOffset.MinValue)
            && station.TankDays.LastOrDefault(reading => reading.At <= at && reading.At > (tank.Since ?? DateTimeOffset.MinValue) && at - reading.At <= LevelHolds) is { } reading
            && station.Setup.Tank.Read(reading) is { } level
                ? Math.Clamp((level.Litres - water.LeftLitres) / water.Litres, 0, 1)
                : 0;
    }
}
