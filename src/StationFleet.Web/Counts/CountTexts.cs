using System.Globalization;
using StationFleet.Storage.Counts;

namespace StationFleet.Web.Counts;

/// <summary>Words of count shifts.</summary>
internal static class CountTexts
{
    /// <summary>«Sat 4 Jul 2026, 08:00 to 12:00».</summary>
    public static string Times(DateTimeOffset from, DateTimeOffset to, TimeZoneInfo zone) =>
        $"{Platform.LocalTimes.Say(from, zone)} to {TimeZoneInfo.ConvertTime(to, zone).ToString("HH:mm", CultureInfo.InvariantCulture)}";

    /// <summary>«42 boats leaving, 12 at the station, 21 tool uses».</summary>
    public static string Counted(int leaving, int atStation, int? uses) => string.Create(
        CultureInfo.InvariantCulture, $"{leaving} {(leaving == 1 ? "boat" : "boats")} leaving, {atStation} at the station, {(uses is { } known ? $"{known} tool {(known == 1 ? "use" : "uses")}" : "tools not watched")}");

    /// <summary>What a correction changes, a line each, the old value after the new one.</summary>
    public static List<string> Changes(CountShiftRow was, IReadOnlyCollection<CountedToolUses> tools, CountReport now, TimeZoneInfo zone)
    {
        List<string> lines = [];
        Add("From", Platform.LocalTimes.Say(now.From, zone), Platform.LocalTimes.Say(was.From, zone));
        Add("To", Platform.LocalTimes.Say(now.To, zone), Platform.LocalTimes.Say(was.To, zone));
        Add("Boats leaving", Whole(now.BoatsLeaving), Whole(was.BoatsLeaving));
        Add("Boats at the station", Whole(now.BoatsAtStation), Whole(was.BoatsAtStation));
        foreach (string slug in now.Tools.Keys.Union(tools.Select(tool => tool.Tool)).Order(StringComparer.Ordinal))
        {
            Add($"Uses of {slug}", now.Tools.TryGetValue(slug, out int uses) ? Whole(uses) : "not watched", tools.FirstOrDefault(tool => tool.Tool == slug) is { } old ? Whole(old.Uses) : "not watched");
        }

        Add("Note", now.Note ?? "none", was.Note ?? "none");
        return lines;

        void Add(string name, string present, string before)
        {
            if (present != before)
            {
                lines.Add($"{name}: {present}, was {before}.");
            }
        }
    }

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);
}
