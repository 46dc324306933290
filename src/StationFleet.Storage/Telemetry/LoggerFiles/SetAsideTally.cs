using System.Text;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Storage.Telemetry.LoggerFiles;

/// <summary>Counts records set aside by their reasons; sentences that differ only in figures and quoted words are one reason.</summary>
public sealed class SetAsideTally
{
    private readonly Dictionary<string, SetAsideCount> _counts = new(StringComparer.Ordinal);

    /// <summary>The reasons, most first.</summary>
    public IReadOnlyList<SetAsideCount> Counts => [.. _counts.Values.OrderByDescending(count => count.Count).ThenBy(count => count.FirstLine)];

    public void Add(IEnumerable<SetAsideRecord> records)
    {
        ArgumentNullException.ThrowIfNull(records);
        foreach (SetAsideRecord record in records)
        {
            string kind = KindOf(record.Reason);
            _counts[kind] = _counts.TryGetValue(kind, out SetAsideCount? known)
                ? known with { Count = known.Count + 1 }
                : new SetAsideCount(record.Reason, 1, record.Index);
        }
    }

    private static string KindOf(string reason)
    {
        StringBuilder kind = new();
        bool isQuoted = false;
        foreach (char c in reason)
        {
            isQuoted ^= c == '\'';
            if (!isQuoted && !char.IsAsciiDigit(c) && c is not ('.' or '-' or '+'))
            {
                kind.Append(c);
            }
        }

        return kind.ToString();
    }
}
