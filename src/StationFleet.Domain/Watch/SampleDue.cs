using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>The rule Sample due: a planned sample must be taken before its last day ends, and before the tank is emptied.</summary>
/// <remarks>Within its days a sample falls due earlier when the tank is to be emptied before: what is pumped out can no longer be sampled.</remarks>
public static class SampleDue
{
    /// <summary>What was called due is no longer so when its time moved away by half as much again as the notice.</summary>
    private const double DeadBand = 1.5;

    /// <summary>The part of a planned sample, such as <c>plan-12</c>.</summary>
    /// <param name="taking">The planned sample.</param>
    public static string Part(PlannedTaking taking)
    {
        ArgumentNullException.ThrowIfNull(taking);
        return FormattableString.Invariant($"plan-{taking.Number}");
    }

    /// <summary>The numbers behind it, with the instant by which it must be taken.</summary>
    /// <param name="taking">The planned sample.</param>
    /// <param name="tank">The forecast of the tank; null when there is none.</param>
    /// <param name="fullNow">Its level as a share of capacity, when somebody has to pump it out now; else null.</param>
    /// <param name="zone">The station's time zone.</param>
    /// <param name="now">The present.</param>
    public static SampleDueEvidence Evidence(
        PlannedTaking taking, TankForecast? tank, double? fullNow, TimeZoneInfo zone, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(taking);
        DateTimeOffset by = taking.EndOfDue(zone);
        SampleDueEvidence planned = new(taking.From, taking.Due, by, taking.Grabs, taking.LitresPerGrab);
        DateTimeOffset? pumpOut = fullNow is not null ? now : tank?.When(TankFilling.EarlyChance);
        return pumpOut < by && pumpOut >= LocalCalendar.StartOf(taking.From, zone)
            ? planned with { By = pumpOut.Value, Tank = new ExpectedEmptying(fullNow ?? (1 - tank!.Room), tank?.Window, fullNow is not null) }
            : planned;
    }

    /// <summary>Whether it asks for this much notice.</summary>
    /// <param name="due">The planned sample.</param>
    /// <param name="notice">How long before its time.</param>
    /// <param name="zone">The station's time zone.</param>
    /// <param name="now">The present.</param>
    public static bool IsOn(SampleDueEvidence due, TimeSpan notice, TimeZoneInfo zone, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(due);
        return now >= due.By - notice && now >= LocalCalendar.StartOf(due.From, zone);
    }

    /// <summary>Whether it does not ask any more.</summary>
    /// <param name="due">The planned sample.</param>
    /// <param name="notice">How long before its time.</param>
    /// <param name="zone">The station's time zone.</param>
    /// <param name="now">The present.</param>
    public static bool IsOff(SampleDueEvidence due, TimeSpan notice, TimeZoneInfo zone, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(due);
        return now < due.By - (notice * DeadBand) || now < LocalCalendar.StartOf(due.From, zone);
    }
}
