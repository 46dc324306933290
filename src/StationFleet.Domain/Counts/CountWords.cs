using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Counts;

/// <summary>What pages and reports say of count shifts.</summary>
public static class CountWords
{
    /// <summary>The answer in a sentence or two: share and boats with their limits, as far as the shifts tell them.</summary>
    /// <param name="counts">The season's shifts.</param>
    public static string Headline(BoatCounts counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        string share = counts.Share is { Share: var known }
            ? $"About {NumberWords.Percent(known.Value)} of the leaving boats used a station ({Limits(known)}){(counts.Missing.Any() ? " in the kinds of hours that were counted" : "")}"
            : "";
        string boats = counts.Boats is { } all ? $"about {Rounded(all.Value)} boats used one in these days ({Rounded(all.Low)} to {Rounded(all.High)})" : "";
        return (share, boats) switch
        {
            ("", "") when !counts.Shifts.Any() => "Nobody has counted boats yet.",
            ("", "") => "The shifts are too few to tell a share or boats.",
            ("", _) => $"{NumberWords.Capital(boats)}.",
            (_, "") => $"{share}.",
            _ => $"{share}; {boats}.",
        };
    }

    /// <summary>What is missing, a sentence each.</summary>
    /// <param name="counts">The season's shifts.</param>
    public static IReadOnlyList<string> Missing(BoatCounts counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        List<string> sentences =
        [
            .. counts.Missing.GroupBy(part => part.Station).Select(station =>
                $"{station.Key}: no shift on {And(station.Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Kind.Words} ({NumberWords.Figures(part.Hours)} h)")))}. The share says nothing of these."),
            .. counts.WithoutBoats.Select(code => $"{code}: too few shifts with tool uses to tell boats from uses; its boats are in no figure."),
        ];
        if (counts.Share is null && counts.Shifts.Any())
        {
            sentences.Add("A share needs two shifts on the same kind of hours (such as weekend mornings) at one station.");
        }

        return sentences;
    }

    /// <summary>What a report says of them in plain text.</summary>
    /// <param name="counts">The season's shifts; at least one.</param>
    public static string Narrative(BoatCounts counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        int shifts = counts.Shifts.Count();
        string perBoat = counts.UsesPerBoat is { } ratio ? $" A boat that used a station made {Ratio(ratio)} tool uses." : "";
        string coverage = counts.Coverage is { } known and < 1 ? $" The shifts are of kinds that make up {NumberWords.Percent(known)} of the hours from 6 to 21; the share says nothing of the others." : "";
        return $"{NumberWords.Capital(NumberWords.Count(shifts))} count {(shifts == 1 ? "shift" : "shifts")} of {NumberWords.Brief(counts.HoursCounted)} hours. {Headline(counts)}{perBoat}{coverage}";
    }

    /// <summary>A share with its limits: «26 % (18 to 34 %)».</summary>
    /// <param name="share">Shares from 0 to 1.</param>
    public static string Share(Bounded share) => $"{NumberWords.Percent(share.Value)} ({Limits(share)})";

    /// <summary>Boats with their limits, to three digits: «1,210 (1,010 to 1,460)».</summary>
    /// <param name="boats">Boats.</param>
    public static string Boats(Bounded boats) => $"{Rounded(boats.Value)} ({Rounded(boats.Low)} to {Rounded(boats.High)})";

    /// <summary>A ratio with its limits: «1.84 (1.62 to 2.11)».</summary>
    /// <param name="ratio">The ratio.</param>
    public static string Ratio(Bounded ratio) =>
        string.Create(CultureInfo.InvariantCulture, $"{ratio.Value:0.00} ({ratio.Low:0.00} to {ratio.High:0.00})");

    private static string Limits(Bounded share) => $"{NumberWords.Figures(100 * share.Low)} to {NumberWords.Percent(share.High)}";

    private static string Rounded(double boats) => NumberWords.Significant(boats, 3);

    private static string And(IEnumerable<string> parts)
    {
        string[] all = [.. parts];
        return all.Length < 2 ? string.Concat(all) : $"{string.Join(", ", all[..^1])} and {all[^1]}";
    }
}
