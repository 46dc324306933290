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
    /// <summary>The change as a share of the figure before; null when it is not known or was nothing.</summary>
    public double? Change => Value is { } now && Before is { } then && then != 0 ? (now - then) / then : null;
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
            .. now.Fleet.Listed.Select(figure =>
            {
                FigureValue other = then[figure.Definition.Key];
                return new FigureChange(figure.Definition, figure.Value, other.Value, Verdict(figure, other, now, before));
            }),
        ];
    }

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
