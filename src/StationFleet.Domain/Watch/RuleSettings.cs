namespace StationFleet.Domain.Watch;

/// <summary>The limits of the watch at one station.</summary>
/// <param name="IdleAfterDays">A tool counts as idle after this many days without a use [d].</param>
/// <param name="IdleMinOtherUses">…and only when the other tools were used at least this often meanwhile.</param>
/// <param name="TankSoonShare">Share of capacity from which a pump-out is due soon, 0 to 1.</param>
/// <param name="TankRaiseShare">Share of capacity that raises a ticket, 0 to 1.</param>
/// <param name="ChargeSoonShare">State of charge under which a low battery is due soon, 0 to 1.</param>
/// <param name="ChargeRaiseShare">State of charge that raises a ticket, 0 to 1.</param>
/// <param name="SilentAfterHours">A station counts as silent after this many hours without a report [h].</param>
public sealed record RuleSettings(
    double IdleAfterDays,
    int IdleMinOtherUses,
    double TankSoonShare,
    double TankRaiseShare,
    double ChargeSoonShare,
    double ChargeRaiseShare,
    double SilentAfterHours)
{
    /// <summary>
    /// Starting values (common practice, no source): a tank is due at 60 % and a ticket at 80 %, lead-acid is due at 60 % and a
    /// ticket at 50 % of charge.
    /// </summary>
    public static RuleSettings Default { get; } = new(7, 20, 0.60, 0.80, 0.60, 0.50, 3);
}
