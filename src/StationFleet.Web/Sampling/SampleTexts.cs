using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Sampling;
using StationFleet.Storage.Sampling;

namespace StationFleet.Web.Sampling;

/// <summary>Samples in words.</summary>
internal static class SampleTexts
{
    /// <summary>The log's first line.</summary>
    public static string Headline(ListSamples.View view)
    {
        string waiting = view.Waiting switch
        {
            0 => "No sample is waiting",
            1 => "One sample is waiting for its count",
            var many => $"{NumberWords.Capital(NumberWords.Count(many))} samples are waiting for their counts",
        };
        string overdue = view.Overdue switch
        {
            0 when view.Waiting == 0 => "",
            0 => ", none is overdue",
            1 => ", one is overdue",
            var many => $", {NumberWords.Count(many)} are overdue",
        };
        string due = view.Due.Count switch
        {
            0 => "",
            1 => $"; sample {view.Due[0].Station} before its next pump-out",
            var many => $"; {NumberWords.Count(many)} tanks hold water that nobody has sampled",
        };
        return $"{waiting}{overdue}{due}.";
    }

    /// <summary>Where a sample waits.</summary>
    public static string Waiting(CustodyStep? custody, bool isOverdue) => custody switch
    {
        null => "not handed over",
        { Promised: { } promised } => $"with {custody.ReceivedBy}, {(isOverdue ? "overdue since" : "promised for")} {promised.ToString("d MMM", CultureInfo.InvariantCulture)}",
        _ => $"with {custody.ReceivedBy}",
    };

    /// <summary>What a sample held, most first; zeros are told when nothing else is.</summary>
    public static string Found(IEnumerable<ListSamples.Found> counts, IEnumerable<ListSamples.Picked> pieces)
    {
        List<string> words =
        [
            .. counts.GroupBy(one => SamplingWords.Named(one.Taxon, one.Stage)).Select(group => (Name: group.Key, Sum: group.Sum(one => one.Count)))
                .Where(one => one.Sum > 0).OrderByDescending(one => one.Sum).Select(one => $"{NumberWords.Figures(one.Sum)} {one.Name}"),
            .. pieces.Where(piece => piece.IsPresent).Select(piece => $"{piece.Taxon} present"),
        ];
        return words.Count == 0 ? "none found" : string.Join("; ", words);
    }

    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>How a sample's value reads in its history; «–» when there was none.</summary>
    public static string Value(double? value, string unit) => value is { } number ? $"{Number(number)} {unit}" : "–";
}
