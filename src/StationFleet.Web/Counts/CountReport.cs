using System.Globalization;
using StationFleet.Web.Platform;
using StationFleet.Web.Service.Phone;

namespace StationFleet.Web.Counts;

/// <summary>What a count form says, checked.</summary>
/// <param name="From">When the counting began.</param>
/// <param name="To">When it ended.</param>
/// <param name="Tools">Uses by tool; empty when nobody watched the tools.</param>
internal sealed record CountReport(
    DateTimeOffset From, DateTimeOffset To, int BoatsLeaving, int BoatsAtStation, IReadOnlyDictionary<string, int> Tools, string? Note)
{
    public const int MostBoats = 2000;
    private const int MostUses = 5000;
    private const int LongestNote = 1000;
    private static readonly TimeSpan Longest = TimeSpan.FromHours(16);
    private static readonly TimeSpan ClockMayBeAhead = TimeSpan.FromMinutes(10);

    /// <summary>Reads the form; what is wrong is noted beside its field, and the report is then of no use.</summary>
    /// <param name="zone">The access's time zone.</param>
    /// <param name="known">The slugs of the station's tools.</param>
    public static CountReport Read(Typed typed, CountInput input, DateTimeOffset now, TimeZoneInfo zone, IReadOnlySet<string> known)
    {
        DateTimeOffset to = input.To.Trim().Length == 0 ? now - KeptOnPhone.Read(input.KeptSeconds) : typed.Instant(nameof(CountInput.To), input.To, zone);
        DateTimeOffset from = (input.From.Trim(), KeptOnPhone.Read(input.CountedSeconds)) switch
        {
            ({ Length: > 0 } written, _) => typed.Instant(nameof(CountInput.From), written, zone),
            ("", var counted) when counted > TimeSpan.Zero && input.To.Trim().Length == 0 => to - counted,
            _ => Nothing(typed),
        };
        CheckTimes(typed, from, to, now);
        int leaving = Whole(typed, nameof(CountInput.BoatsLeaving), input.BoatsLeaving, MostBoats);
        int atStation = Whole(typed, nameof(CountInput.BoatsAtStation), input.BoatsAtStation, MostBoats);
        if (typed.Wrong.Count == 0 && atStation > leaving)
        {
            typed.Wrong.Note(nameof(CountInput.BoatsAtStation), $"More boats used the station than left ({leaving}). Count boats that leave; of these, those that used the station.");
        }

        Dictionary<string, int> tools = input.Tools.Values.All(string.IsNullOrWhiteSpace)
            ? []
            : input.Tools.Where(tool => known.Contains(tool.Key)).ToDictionary(
                tool => tool.Key,
                tool => string.IsNullOrWhiteSpace(tool.Value) ? 0 : Whole(typed, CountInput.ToolField(tool.Key), tool.Value, MostUses),
                StringComparer.Ordinal);
        if (typed.Wrong.Count == 0 && atStation == 0 && tools.Values.Sum() > 0)
        {
            typed.Wrong.Note(nameof(CountInput.BoatsAtStation), "Tools were used: how many boats used the station?");
        }

        string note = input.Note.Trim();
        if (note.Length > LongestNote)
        {
            typed.Wrong.Note(nameof(CountInput.Note), $"Shorten it to {LongestNote} characters.");
        }

        return new CountReport(from, to, leaving, atStation, tools, note.Length > 0 ? note : null);
    }

    private static DateTimeOffset Nothing(Typed typed)
    {
        typed.Wrong.Note(nameof(CountInput.From), "Write when you began to count.");
        return default;
    }

    private static void CheckTimes(Typed typed, DateTimeOffset from, DateTimeOffset to, DateTimeOffset now)
    {
        if (typed.Wrong.Count > 0)
        {
            return;
        }

        if (to > now + ClockMayBeAhead)
        {
            typed.Wrong.Note(nameof(CountInput.To), "This is still to come. When did you stop?");
        }
        else if (to <= from)
        {
            typed.Wrong.Note(nameof(CountInput.To), "The counting ended before it began: look at both times.");
        }
        else if (to - from > Longest)
        {
            typed.Wrong.Note(nameof(CountInput.From), $"A shift lasts at most {Longest.TotalHours:0} hours: look at both times.");
        }
    }

    private static int Whole(Typed typed, string field, string text, int most)
    {
        if (int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number <= most)
        {
            return number;
        }

        typed.Wrong.Note(field, string.Create(CultureInfo.InvariantCulture, $"Write a whole number from 0 to {most}."));
        return 0;
    }
}
