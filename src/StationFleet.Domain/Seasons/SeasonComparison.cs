using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Seasons;

/// <summary>Whether a change is more than chance.</summary>
public enum ChangeVerdict
{
    /// <summary>The figure cannot be compared: one is missing, or its scatter is not known.</summary>
    NotTested,

    /// <summary>Chance alone would do as much in more than one of twenty cases.</summary>
    WithinNoise,

    /// <summary>Chance alone would do as much in at most one of twenty cases.</summary>
    MoreThanNoise,
}

/// <summary>A figure beside that of the year before.</summary>
/// <param name="Definition">What it means.</param>
/// <param name="Value">The figure now.</param>
/// <param name="Before">The figure a year before.</param>
/// <param name="Verdict">Whether the change is more than chance.</param>
public sealed record FigureChange(FigureDefinition Definition, double? Value, double? Before, ChangeVerdict Verdict)
{
    /// <summary>What it is about besides all stations, such as an organism in a water; empty without.</summary>
    public string About { get; init; } = "";

    /// <summary>The figure's name, and what it is about.</summary>
    public string Name => About.Length > 0 ? $"{Definition.Name}: {About}" : Definition.Name;

    /// <summary>The change as a share of the figure before; null when it is not known or was nothing.</summary>
    public double? Share => Value is { } now && Before is { } then && then != 0 ? (now - then) / then : null;
}

/// <summary>Sets a season beside the same days of the year before.</summary>
public static class SeasonComparison
{
    private const double Level = 0.05;

    /// <summary>Compares the figures of all stations together.</summary>
    /// <param name="now">The season.</param>
    /// <param name="before">The same days of the year before.</param>
    /// <remarks>
    /// Counts of events (failures, tickets raised, pump-outs, visits) are compared per required time by an exact test of two Poisson
    /// rates. Uses come in bursts, so their weekly sums are compared instead, by a rank test. Other figures are set side by side only.
    /// </remarks>
    public static IReadOnlyList<FigureChange> Of(SeasonSummary now, SeasonSummary before)
    {
        ArgumentNullException.ThrowIfNull(now);
        ArgumentNullException.ThrowIfNull(before);
        Dictionary<string, FigureValue> then = before.Fleet.Listed.ToDictionary(figure => figure.Definition.Key);
        return
        [
            .. now.Fleet.Listed.Where(figure => !BoatDefinitions.Limits.Contains(figure.Definition)).Select(figure =>
            {
                FigureValue other = then[figure.Definition.Key];
                return new FigureChange(figure.Definition, figure.Value, other.Value, Verdict(figure, other, now, before));
            }),
        ];
    }

    /// <summary>Compares removal figures; organisms that were looked for in one year only have one side empty.</summary>
    /// <param name="now">The season's.</param>
    /// <param name="before">Those of the same days of the year before.</param>
    public static IReadOnlyList<FigureChange> Of(IReadOnlyList<SeasonRemoval> now, IReadOnlyList<SeasonRemoval> before)
    {
        ArgumentNullException.ThrowIfNull(now);
        Dictionary<(int, string, Sampling.Organism), SeasonRemoval> then = before.ToDictionary(one => (one.Year + 1, one.Water, one.Total.Organism));
        return
        [
            .. now.Select(one =>
            {
                SeasonRemoval? other = then.GetValueOrDefault((one.Year, one.Water, one.Total.Organism));
                return new FigureChange(
                    SeasonDefinitions.OrganismsRemoved, one.Total.Estimate?.Value, other?.Total.Estimate?.Value,
                    other is null ? ChangeVerdict.NotTested : one.Beside(other))
                {
                    About = $"{one.Name}, {one.Water}",
                };
            }).Where(change => change.Value is not null || change.Before is not null),
        ];
    }

    /// <summary>A verdict in words.</summary>
    /// <param name="verdict">The verdict.</param>
    public static string Say(ChangeVerdict verdict) => verdict switch
    {
        ChangeVerdict.MoreThanNoise => "more than noise",
        ChangeVerdict.WithinNoise => "within noise",
        _ => "not tested",
    };

    /// <summary>What the comparison is, for its readers.</summary>
    public static string Note =>
        "The same stations on the same days a year before. Counts of events are compared per required time, uses by their weekly sums, organisms "
        + "by the limits of their ratio; «more than noise» is what chance alone would do in at most one of twenty cases.";

    private static ChangeVerdict Verdict(FigureValue figure, FigureValue other, SeasonSummary now, SeasonSummary before)
    {
        (double time, double otherTime) = (now.Fleet.RequiredHours, before.Fleet.RequiredHours);
        if (time <= 0 || otherTime <= 0)
        {
            return ChangeVerdict.NotTested;
        }

        FigureDefinition definition = figure.Definition;
        if (definition == SeasonDefinitions.Uses)
        {
            double[] weeks = [.. now.Weeks.Select(week => week.Uses).OfType<double>()];
            double[] otherWeeks = [.. before.Weeks.Select(week => week.Uses).OfType<double>()];
            return RankSum.PValue(weeks, otherWeeks) is { } p ? Of(p) : ChangeVerdict.NotTested;
        }

        bool isEvents = definition == SeasonDefinitions.Failures || definition == SeasonDefinitions.TicketsRaised
            || definition == SeasonDefinitions.PumpOuts || definition == SeasonDefinitions.Visits;
        return isEvents && figure.Value is { } count && other.Value is { } otherCount
            ? Of(PoissonRates.PValue((int)count, time, (int)otherCount, otherTime))
            : ChangeVerdict.NotTested;
    }

    private static ChangeVerdict Of(double p) => p <= Level ? ChangeVerdict.MoreThanNoise : ChangeVerdict.WithinNoise;
}
