using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Quality;

/// <summary>Something that the watch told people.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Part">The part.</param>
/// <param name="At">When.</param>
/// <param name="IsTicket">A ticket was raised or reopened; else it was only worth knowing.</param>
/// <param name="IsTrue">A fault explains it, or the true tank, charge or silence does.</param>
public sealed record QualityNotice(Rule Rule, string Part, DateTimeOffset At, bool IsTicket, bool IsTrue);

/// <summary>What became of a fault.</summary>
/// <param name="Fault">The fault, with its true end.</param>
/// <param name="Told">When the watch first told of it; null: never.</param>
/// <param name="Hours">Hours from the fault to the telling; infinite: never.</param>
/// <param name="Sessions">Boats that came meanwhile; infinite: never told.</param>
/// <param name="IsMendedOtherwise">Never told of, since somebody who came for another rule's ticket mended it.</param>
public sealed record QualityFault(PlannedFault Fault, DateTimeOffset? Told, double Hours, double Sessions, bool IsMendedOtherwise)
{
    /// <summary>Hours from the fault to the first word of the rule that should see it, due soon or a ticket; infinite: never.</summary>
    public double HoursToWord { get; init; } = double.PositiveInfinity;
}

/// <summary>One trial of one season, held against its truth.</summary>
/// <param name="Season">The season.</param>
/// <param name="Notices">What the watch told, in order.</param>
/// <param name="Faults">What became of the faults.</param>
/// <param name="FullTanks">Times at which the tank truly filled to its capacity.</param>
/// <param name="WarnedTanks">…of which a ticket told at least half a day before.</param>
public sealed record SeasonOutcome(
    QualitySeason Season, IReadOnlyList<QualityNotice> Notices, IReadOnlyList<QualityFault> Faults, int FullTanks, int WarnedTanks)
{
    /// <summary>What was forecast of the charge.</summary>
    public ChargeTries Charge { get; init; } = new([], []);

    /// <summary>What was forecast of the tank, while its sensor and the use of the station were in order.</summary>
    public IReadOnlyList<TankForecastTry> Forecasts { get; init; } = [];

    /// <summary>Whether the tank's emptyings were seen, while the sensor was in order.</summary>
    public PumpOutCheck PumpOuts { get; init; } = new(0, 0, 0);
}
