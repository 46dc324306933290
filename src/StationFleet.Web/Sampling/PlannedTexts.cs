using System.Globalization;
using StationFleet.Domain.Quantities;

namespace StationFleet.Web.Sampling;

/// <summary>Planned samples in words.</summary>
internal static class PlannedTexts
{
    private const int DaysByName = 7;

    public static string Headline(ListPlanned.View view)
    {
        int late = view.Open.Count(row => row.Days < 0);
        int soon = view.Open.Count(row => row.Days is >= 0 and < DaysByName);
        if (view.Open.Count == 0)
        {
            return view.Rows.Count == 0 ? "No sample is planned." : "No sample is planned any more this year.";
        }

        string planned = $"{NumberWords.Capital(NumberWords.Count(view.Open.Count))} {(view.Open.Count == 1 ? "sample is" : "samples are")} planned";
        return (late, soon) switch
        {
            (0, 0) => $"{planned}; none is due within a week.",
            (0, _) => $"{planned}; {NumberWords.Count(soon)} {Are(soon)} due within a week.",
            (_, 0) => $"{planned}; {NumberWords.Count(late)} {Are(late)} late.",
            _ => $"{planned}; {NumberWords.Count(late)} {Are(late)} late, {NumberWords.Count(soon)} due within a week.",
        };

        static string Are(int count) => count == 1 ? "is" : "are";
    }

    public static string Accepted(int planned, int known) => (planned, known) switch
    {
        (0, _) => "All of it was planned before.",
        (1, 0) => "One sample is planned.",
        (_, 0) => $"{NumberWords.Capital(NumberWords.Count(planned))} samples are planned.",
        _ => $"{NumberWords.Capital(NumberWords.Count(planned))} more {(planned == 1 ? "sample is" : "samples are")} planned; the others were before.",
    };

    public static string Days(ListPlanned.Row row) => row.From == row.Due ? $"on {Day(row.Due)}" : $"{Day(row.From)} to {Day(row.Due)}";

    private static string Day(DateOnly day) => day.ToString("ddd d MMM", CultureInfo.InvariantCulture);
}
