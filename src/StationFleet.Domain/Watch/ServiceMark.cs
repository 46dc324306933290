using StationFleet.Domain.Service;

namespace StationFleet.Domain.Watch;

/// <summary>A service visit or finding that facts were folded with, so that one entered or corrected later is noticed.</summary>
/// <param name="From">From when it concerns the facts.</param>
/// <param name="What">What it is, in short.</param>
public readonly record struct ServiceMark(DateTimeOffset From, string What)
{
    /// <summary>The marks of a service log from an instant on, in order.</summary>
    /// <param name="log">The log.</param>
    /// <param name="since">Older entries are left out; null: none are.</param>
    public static IReadOnlyList<ServiceMark> Of(ServiceLog log, DateTimeOffset? since)
    {
        ArgumentNullException.ThrowIfNull(log);
        return
        [
            .. log.Visits.Select(visit => new ServiceMark(Whole(visit.Start), $"visit {(visit.End - visit.Start).TotalMinutes:0}"))
                .Concat(log.Findings.Select(finding => new ServiceMark(
                    Whole(finding.At), $"{finding.Rule} {finding.Part} {(finding.WasFine ? "fine" : "mended")}")))
                .Where(mark => since is null || mark.From >= since)
                .OrderBy(mark => mark.From).ThenBy(mark => mark.What, StringComparer.Ordinal),
        ];
    }

    /// <summary>From when two lists of marks differ; null when they do not.</summary>
    /// <param name="before">Marks.</param>
    /// <param name="now">Other marks.</param>
    /// <param name="since">Marks before this instant don't count; null: all do.</param>
    internal static DateTimeOffset? FirstDifference(IEnumerable<ServiceMark> before, IEnumerable<ServiceMark> now, DateTimeOffset? since)
    {
        HashSet<ServiceMark> different = [.. before];
        different.SymmetricExceptWith(now);
        return different.Where(mark => since is null || mark.From >= since).Min(mark => (DateTimeOffset?)mark.From);
    }

    // The database keeps milliseconds.
    private static DateTimeOffset Whole(DateTimeOffset at) => DateTimeOffset.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());
}
