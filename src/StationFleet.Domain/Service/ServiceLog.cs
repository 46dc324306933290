using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service;

/// <summary>What a person found out about a problem, by closing its ticket.</summary>
/// <param name="Rule">The rule that had raised it.</param>
/// <param name="Part">The part it was about.</param>
/// <param name="At">When the work was done.</param>
/// <param name="WasFine">Nothing was wrong; else it was mended.</param>
public sealed record TicketFinding(Rule Rule, string Part, DateTimeOffset At, bool WasFine);

/// <summary>What people did at a station, as far as the watch needs it.</summary>
/// <param name="Visits">When they were there: uses in these times are service uses.</param>
/// <param name="Findings">What they found, in order.</param>
public sealed record ServiceLog(IReadOnlyList<UtcInterval> Visits, IReadOnlyList<TicketFinding> Findings)
{
    /// <summary>Nobody was ever there.</summary>
    public static ServiceLog None { get; } = new([], []);

    /// <summary>A visit of which the end is known.</summary>
    /// <param name="end">When the work was done.</param>
    /// <param name="minutes">How long it took [min]; null takes half an hour.</param>
    public static UtcInterval VisitEndingAt(DateTimeOffset end, int? minutes) =>
        new(end - TimeSpan.FromMinutes(Math.Max(1, minutes ?? 30)), end);
}
