using System.Globalization;

namespace StationFleet.Domain.Grants;

/// <summary>Words and days as the pages of awards and equipment write them.</summary>
public static class GrantWords
{
    /// <summary>What stands on each page and export.</summary>
    public const string TermsPrevail = "The award's own terms prevail over what this program reckons.";

    /// <summary>«InUse» reads «In use».</summary>
    /// <param name="word">An enum's value.</param>
    public static string Spoken<TWord>(TWord word)
        where TWord : struct, Enum => string.Concat(word.ToString().Select((letter, place) =>
            place > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}" : letter.ToString()));

    /// <summary>«30 Jul 2026».</summary>
    /// <param name="day">The day.</param>
    public static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>«Report for April to June 2026», «Final report».</summary>
    /// <param name="report">The report.</param>
    public static string ReportName(AwardReportDue report)
    {
        ArgumentNullException.ThrowIfNull(report);
        (DateOnly start, DateOnly end) = (report.PeriodStart, report.PeriodEnd);
        string last = end.ToString("MMMM yyyy", CultureInfo.InvariantCulture);
        return report.IsFinal ? "Final report"
            : start.Year == end.Year && start.Month == end.Month ? $"Report for {last}"
            : $"Report for {start.ToString(start.Year == end.Year ? "MMMM" : "MMMM yyyy", CultureInfo.InvariantCulture)} to {last}";
    }

    /// <summary>When a report is due, seen from a day: «is due on 30 Jul 2026, in 22 days».</summary>
    /// <param name="due">The due day.</param>
    /// <param name="today">The local day.</param>
    public static string Due(DateOnly due, DateOnly today) => (due.DayNumber - today.DayNumber) switch
    {
        < 0 and var late => $"was due on {Day(due)}, {Quantities.NumberWords.Count(-late)} {(late == -1 ? "day" : "days")} ago",
        0 => $"is due today, {Day(due)}",
        1 => $"is due tomorrow, {Day(due)}",
        var left => $"is due on {Day(due)}, in {Quantities.NumberWords.Count(left)} days",
    };

    /// <summary>Names with their shares: one alone without its 100 %.</summary>
    /// <param name="holders">The owners or sources.</param>
    public static string List(IReadOnlyList<Shareholder> holders)
    {
        ArgumentNullException.ThrowIfNull(holders);
        return holders is [{ } only]
            ? only.Name
            : string.Join("; ", holders.Select(holder => $"{holder.Name} {holder.Share}"));
    }
}
