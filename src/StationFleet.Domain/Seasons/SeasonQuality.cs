using System.Globalization;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Seasons;

/// <summary>What a reader of a season's figures has to know of the data behind them.</summary>
public static class SeasonQuality
{
    /// <summary>Lists gaps, records set aside, and values that were assumed or are uncertain, a sentence each.</summary>
    /// <param name="summary">The season.</param>
    /// <param name="setAside">Records set aside that came in on these days, by station; stations without any may be missing.</param>
    /// <returns>By station; a station with nothing to say has none.</returns>
    public static IReadOnlyList<(string Station, IReadOnlyList<string> Sentences)> Of(
        SeasonSummary summary, IReadOnlyDictionary<Fleet.StationId, int> setAside)
    {
        ArgumentNullException.ThrowIfNull(summary);
        ArgumentNullException.ThrowIfNull(setAside);
        return
        [
            .. summary.Stations.Select(station => (station.Code, (IReadOnlyList<string>)[.. Sentences(station, setAside.GetValueOrDefault(station.Id))]))
                .Where(station => station.Item2.Count > 0),
        ];
    }

    private static IEnumerable<string> Sentences(StationSeason station, int setAside)
    {
        SeasonFigures figures = station.Figures;
        if (station.Gaps.Count > 0)
        {
            yield return $"No data at all on {string.Join(", ", station.Gaps.Select(Say))}.";
        }

        double missing = figures.RequiredHours - figures.HoursWithData;
        if (missing >= 1)
        {
            yield return $"{NumberWords.Figures(missing)} of {NumberWords.Figures(figures.RequiredHours)} required hours have no data.";
        }

        if (figures.UsesOnUncertainDay > 0)
        {
            yield return $"{NumberWords.Figures(figures.UsesOnUncertainDay)} uses were counted over several days and stand on the last of them.";
        }

        if (figures.Restarts > 0)
        {
            yield return $"Counters began again {NumberWords.Count(figures.Restarts)} {(figures.Restarts == 1 ? "time" : "times")}: uses may be missing.";
        }

        int written = station.PumpOuts.Count(pumpOut => pumpOut.Witness == PumpOutWitness.Person);
        if (written > 0)
        {
            yield return $"{NumberWords.Capital(NumberWords.Count(written))} {(written == 1 ? "pump-out is" : "pump-outs are")} known only as a person wrote the volume down.";
        }

        foreach (string uncounted in CountWords.Missing(figures.Boats))
        {
            yield return uncounted;
        }

        if (setAside > 0)
        {
            yield return $"{NumberWords.Capital(NumberWords.Count(setAside))} {(setAside == 1 ? "record" : "records")} that came in on these days could not be counted and {(setAside == 1 ? "is" : "are")} set aside.";
        }
    }

    private static string Say((DateOnly First, DateOnly Last) gap) => gap.First == gap.Last
        ? Day(gap.First)
        : $"{Day(gap.First)} to {Day(gap.Last)}";

    private static string Day(DateOnly day) => day.ToString("d MMM", CultureInfo.InvariantCulture);
}
