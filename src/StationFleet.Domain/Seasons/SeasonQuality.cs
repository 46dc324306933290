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
    public static IReadOnlyList<StationNotes> Of(
        SeasonSummary summary, IReadOnlyDictionary<Fleet.StationId, int> setAside)
    {
        ArgumentNullException.ThrowIfNull(summary);
        ArgumentNullException.ThrowIfNull(setAside);
        return
        [
            .. summary.Stations.Select(station => new StationNotes(station.Code, [.. Sentences(station, setAside.GetValueOrDefault(station.Id))]))
                .Where(station => station.Sentences.Count > 0),
        ];
    }

    private static IEnumerable<string> Sentences(StationSeason station, int setAside)
    {
        SeasonFigures figures = station.Figures;
        if (station.Gaps.Count > 0)
        {
            bool manyYears = station.Gaps[0].First.Year != station.Gaps[^1].Last.Year;
            yield return $"No data at all on {string.Join(", ", station.Gaps.Select(gap => Say(gap, manyYears ? "d MMM yyyy" : "d MMM")))}.";
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
            yield return $"{NumberWords.Capital(NumberWords.Count(written))} {(written == 1 ? "pump-out is" : "pump-outs are")} known only as a person wrote the volume down; removal figures assume it right to a tenth.";
        }

        if (station.VisitsWithoutMinutes is > 0 and var silent)
        {
            yield return $"{NumberWords.Capital(NumberWords.Count(silent))} {(silent == 1 ? "visit has" : "visits have")} no minutes written down and {(silent == 1 ? "adds" : "add")} no hours.";
        }

        double unsaid = (figures.VisitTime - figures.VisitTimePaid - figures.VisitTimeMatch - figures.VisitTimeVolunteer).TotalHours;
        if (unsaid > 0)
        {
            yield return $"{NumberWords.Brief(unsaid)} hours at the station do not say whether they were paid, match or a volunteer's.";
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

    private static string Say((DateOnly First, DateOnly Last) gap, string pattern) => gap.First == gap.Last
        ? gap.First.ToString(pattern, CultureInfo.InvariantCulture)
        : $"{gap.First.ToString(pattern, CultureInfo.InvariantCulture)} to {gap.Last.ToString(pattern, CultureInfo.InvariantCulture)}";
}
