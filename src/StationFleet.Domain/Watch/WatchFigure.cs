using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;

namespace StationFleet.Domain.Watch;

/// <summary>One figure of the watch's quality, as the page and the file show it.</summary>
/// <param name="Key">Its name for machines.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="Value">The number; hours for a length of time, 0 to 1 for a share; null when nothing can be said.</param>
/// <param name="Unit">The number's unit: empty for a count.</param>
/// <param name="Words">The value in words.</param>
/// <param name="Target">What it should be; empty when it has no target.</param>
/// <param name="IsMet">Whether it is; null when it has no target, or nothing can be said.</param>
/// <param name="Definition">How it is made, in a sentence.</param>
public sealed record WatchFigure(
    string Key, string Name, double? Value, string Unit, string Words, string Target, bool? IsMet, string Definition)
{
    /// <summary>All figures of a period, each with its definition.</summary>
    /// <param name="quality">The period.</param>
    public static IReadOnlyList<WatchFigure> Of(WatchQuality quality)
    {
        ArgumentNullException.ThrowIfNull(quality);
        FieldBudget budget = quality.Budget;
        string visits = Number(budget.VisitsPerWeek);
        return
        [
            new("raised", "Tickets raised", quality.Raised, "", NumberWords.Figures(quality.Raised), "", null,
                "Tickets raised or reopened in the period; each asks somebody to drive."),
            new("per_technician_week", "Per technician and week", quality.PerTechnicianWeek, "1/week", Number(quality.PerTechnicianWeek),
                $"at most {visits}; over {Number(budget.MostPerWeek)} nobody keeps up", quality.Load == WatchLoad.Within,
                "Tickets raised, divided by the weeks and the technicians. The budget is field hours a week × share for unplanned work ÷ hours per visit: "
                + $"{Number(budget.FieldHoursPerWeek)} × {NumberWords.Percent(budget.UnplannedShare)} ÷ {Number(budget.HoursPerVisit)} = {visits}."),
            new("nothing_wrong_share", "For nothing", quality.NothingWrongShare, "1", Of(quality.NothingWrong, quality.LookedAt, quality.NothingWrongShare),
                $"under {NumberWords.Percent(WatchQuality.MostNothingWrong)}", quality.NothingWrongShare is { } nothing ? nothing < WatchQuality.MostNothingWrong : null,
                "Of the tickets that somebody looked at and closed in the period, as fixed or as nothing wrong: those with nothing wrong."),
            new("offender_share", "From repeat offenders", quality.OffenderShare, "1",
                Of(quality.Offenders.Sum(offender => offender.Raised), quality.Raised, quality.OffenderShare),
                $"at most {NumberWords.Percent(WatchQuality.MostOffenders)}; more asks for a repair, another limit or a planned round",
                quality.OffenderShare is { } offenders ? offenders <= WatchQuality.MostOffenders : null,
                $"Of the tickets raised: those of the {NumberWords.Count(WatchQuality.OffendersCounted)} most frequent pairs of station and rule (with the tool, where it is about one), when a pair raised more than one."),
            new("repeats", "Again within seven days", quality.Repeats.Count, "", NumberWords.Figures(quality.Repeats.Count), "none", quality.Repeats.Count == 0,
                "Tickets raised or reopened at most seven days after one about the same thing was closed: the repair did not hold, or the limit sits where values swing."),
            new("stale", "Stale", quality.Stale.Count, "", NumberWords.Figures(quality.Stale.Count),
                $"fewer than {NumberWords.Count(WatchQuality.TooManyStale)}", quality.Stale.Count < WatchQuality.TooManyStale,
                $"Tickets open for more than {budget.StaleAfterDays} days at the period's end, without the snoozed ones."),
            new("floods", "Days of flood", quality.Floods.Count, "", NumberWords.Figures(quality.Floods.Count), "none", quality.Floods.Count == 0,
                $"Local days on which more tickets came than one technician can work off in a week ({visits})."),
            new("not_done", "Closed as not done", quality.NotDone, "", NumberWords.Figures(quality.NotDone), "", null,
                "Tickets closed in the period without the work."),
            new("cleared_by_itself", "Closed by themselves", quality.ClearedByItself, "", NumberWords.Figures(quality.ClearedByItself), "", null,
                "Tickets closed in the period because the station came back within a day and nobody had taken them."),
            new("median_to_take", "Until taken", quality.MedianToTake?.TotalHours, "h", Length(quality.MedianToTake), "", null,
                "Median time from raised to first taken, of the tickets raised in the period that were taken."),
            new("median_to_close", "Until done", quality.MedianToClose?.TotalHours, "h", Length(quality.MedianToClose), "", null,
                "Median time from raised to done, of the tickets raised in the period that are closed."),
        ];
    }

    /// <summary>The answer in one sentence.</summary>
    /// <param name="quality">The period.</param>
    public static string Headline(WatchQuality quality)
    {
        ArgumentNullException.ThrowIfNull(quality);
        if (quality.Raised == 0)
        {
            return "The watch asked for no visit.";
        }

        string budget = Number(quality.Budget.VisitsPerWeek);
        string load = quality.Load switch
        {
            WatchLoad.Within => $"within the budget of {budget}",
            WatchLoad.Over => $"over the budget of {budget}",
            _ => $"more than twice the budget of {budget}",
        };
        return $"The watch asked for {Number(quality.PerTechnicianWeek)} visits per technician-week, {load}; {ForNothing(quality.NothingWrong, quality.LookedAt)}.";
    }

    private static string ForNothing(int nothing, int looked) => (nothing, looked) switch
    {
        (_, 0) => "nobody has looked at one yet",
        (0, 1) => "the one that somebody looked at was not for nothing",
        (0, _) => $"none of the {NumberWords.Count(looked)} that somebody looked at was for nothing",
        _ when nothing == looked => looked == 1 ? "the one that somebody looked at was for nothing" : "all that somebody looked at were for nothing",
        _ when looked % nothing == 0 => $"one in {NumberWords.Count(looked / nothing)} was for nothing",
        _ => $"{NumberWords.Count(nothing)} of {NumberWords.Count(looked)} were for nothing",
    };

    private static string Of(int part, int whole, double? share) => share is { } known ? $"{part} of {whole}, {SeasonWords.Percent(known)}" : "–";

    private static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    private static string Length(TimeSpan? length) => length is { } known ? SeasonWords.Duration(known) : "–";
}
