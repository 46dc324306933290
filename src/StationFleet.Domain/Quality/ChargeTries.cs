using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Simulation;

namespace StationFleet.Domain.Quality;

/// <summary>A charge that was forecast, and what it was.</summary>
/// <param name="Days">How many days ahead.</param>
/// <param name="Band">The forecast.</param>
/// <param name="Line">What a straight line through the last two midnights said, 0 to 1.</param>
/// <param name="Truth">What it was, 0 to 1.</param>
public sealed record ChargeTry(int Days, ChargeBand Band, double Line, double Truth);

/// <summary>How likely it was said that the charge falls under its limit within three days, and whether it did.</summary>
/// <param name="WithinThreeDays">What was said, 0 to 1.</param>
/// <param name="CameTrue">Whether it did.</param>
public sealed record ChargeWarning(double WithinThreeDays, bool CameTrue);

/// <summary>What was forecast of a season's charge at each midnight.</summary>
/// <param name="Tries">The charges.</param>
/// <param name="Warnings">The warnings.</param>
public sealed record ChargeTries(IReadOnlyList<ChargeTry> Tries, IReadOnlyList<ChargeWarning> Warnings);

/// <summary>Gathers the forecasts of a season's charge, and holds them against the truth at its end.</summary>
internal sealed class ChargeTryBook(double limitShare)
{
    private const int WarnedDays = 3;
    private static readonly int[] Leads = [1, 3, 5];
    private static readonly TimeSpan Response = TimeSpan.FromDays(WarnedDays);

    private readonly List<DayTruth> _days = [];
    private readonly List<(int Day, DateTimeOffset At, ChargeBand[] Bands, double WithinThreeDays)> _made = [];

    /// <summary>Takes what is forecast at the end of a day.</summary>
    public void Add(DateTimeOffset midnight, ChargeOutlook? outlook, DayTruth day)
    {
        _days.Add(day);
        if (outlook is not null)
        {
            _made.Add((
                _days.Count - 1,
                midnight,
                [.. Leads.Select(lead => outlook.At(midnight.AddDays(lead)))],
                outlook.Under(limitShare, Response).WithinThreeDays));
        }
    }

    /// <summary>What became of the forecasts; those in whose time something was broken or mended that feeds or drains the battery are left out.</summary>
    public ChargeTries Result(IReadOnlyList<PlannedFault> faults)
    {
        List<ChargeTry> tries = [];
        List<ChargeWarning> warnings = [];
        foreach ((int day, DateTimeOffset at, ChargeBand[] bands, double withinThreeDays) in _made)
        {
            for (int i = 0; i < Leads.Length; i++)
            {
                int ahead = day + Leads[i];
                if (day > 0 && ahead < _days.Count && IsInOrder(faults, at, Leads[i]))
                {
                    double line = Math.Clamp(_days[day].ChargeShare + (Leads[i] * (_days[day].ChargeShare - _days[day - 1].ChargeShare)), 0, 1);
                    tries.Add(new ChargeTry(Leads[i], bands[i], line, _days[ahead].ChargeShare));
                }
            }

            if (day + WarnedDays < _days.Count && _days[day].ChargeShare >= limitShare && IsInOrder(faults, at, WarnedDays))
            {
                warnings.Add(new ChargeWarning(withinThreeDays, _days.Skip(day + 1).Take(WarnedDays).Any(next => next.LowestChargeShare < limitShare)));
            }
        }

        return new ChargeTries(tries, warnings);
    }

    private static bool IsInOrder(IReadOnlyList<PlannedFault> faults, DateTimeOffset at, int days) => !faults.Any(fault =>
        fault.Kind is FaultKind.PanelSoiled or FaultKind.PanelShaded or FaultKind.PanelDisconnected or FaultKind.BatteryAged or FaultKind.ExtraLoad
            or FaultKind.SiteOutage or FaultKind.RadioOutage or FaultKind.ClockJump
        && fault.From < at.AddDays(days) && at < (fault.To ?? DateTimeOffset.MaxValue));
}
