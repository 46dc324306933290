using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>An emptying that the fill shows, by a fall that the next reading confirms.</summary>
/// <param name="At">The first reading after the fall: the emptying lies between the reading before and this one.</param>
/// <param name="BeforeShare">Share of capacity before it.</param>
/// <param name="AfterShare">Lowest share of capacity when the fall had ended.</param>
public sealed record PumpOutSeen(DateTimeOffset At, double BeforeShare, double AfterShare);

/// <summary>A fall of the fill that may be a pump-out or a false reading.</summary>
/// <param name="Before">Share of capacity before it.</param>
/// <param name="FirstAt">The first reading that fell.</param>
/// <param name="Lowest">The lowest share since.</param>
public sealed record TankFall(double Before, DateTimeOffset FirstAt, double Lowest);

/// <summary>What is known of a waste tank's fill, in shares of its capacity.</summary>
/// <remarks>
/// A single reading far from the others proves nothing: a jump up counts when the next reading agrees, a fall of at least a
/// tenth is a pump-out when the next reading agrees and the fall has ended. In between, the level only rises, or follows a lower
/// reading after two hours, so that the noise of the sensor adds up to no inflow.
/// </remarks>
public sealed record TankFacts
{
    /// <summary>The least fall that counts as a pump-out, as a share of capacity.</summary>
    public const double LeastFall = 0.10;

    private const double StillFalling = 0.02;
    private const int DaysKept = 7;
    private const int DaysNeeded = 3;
    private static readonly TimeSpan LowEnough = TimeSpan.FromHours(2);

    /// <summary>The newest reading.</summary>
    public Reading? Last { get; set; }

    /// <summary>The reading before the newest.</summary>
    public Reading? Previous { get; set; }

    /// <summary>The level that readings have confirmed.</summary>
    public double? Level { get; set; }

    /// <summary>Since when readings lie under the level.</summary>
    public DateTimeOffset? BelowSince { get; set; }

    /// <summary>A jump up that waits for the next reading.</summary>
    public double? Jump { get; set; }

    /// <summary>A fall that waits for the next reading.</summary>
    public TankFall? Fall { get; set; }

    /// <summary>The last pump-out.</summary>
    public PumpOutSeen? LastPumpOut { get; set; }

    /// <summary>The local day that is being added up.</summary>
    public DateOnly Day { get; set; }

    /// <summary>The level at the start of that day.</summary>
    public double DayStart { get; set; }

    /// <summary>What pump-outs took away on that day.</summary>
    public double DayPumped { get; set; }

    /// <summary>What came in on each of the last whole days, oldest first; seven at most.</summary>
    public IReadOnlyList<double> DailyRises { get; set; } = [];

    /// <summary>Mean inflow of the last whole days, as a share of capacity a day; null before three of them are known.</summary>
    public double? MeanDailyRise() => DailyRises.Count >= DaysNeeded ? DailyRises.Average() : null;

    /// <summary>Takes the next reading.</summary>
    /// <param name="share">Share of capacity.</param>
    /// <param name="at">When; later than all before.</param>
    /// <param name="date">Its local date.</param>
    /// <returns>The pump-out that this reading confirms, or null.</returns>
    internal PumpOutSeen? Take(double share, DateTimeOffset at, DateOnly date)
    {
        (Previous, Last) = (Last, new Reading(at, share));
        if (Level is not { } level)
        {
            (Level, Day, DayStart) = (share, date, share);
            return null;
        }

        TurnDay(date, level);
        if (Fall is { } fall)
        {
            if (share <= fall.Before - LeastFall)
            {
                return share < fall.Lowest - StillFalling ? Wait(fall with { Lowest = share }) : Confirm(fall, share);
            }

            Fall = null;
        }

        Follow(level, share, at);
        return null;
    }

    private PumpOutSeen? Wait(TankFall fall)
    {
        Fall = fall;
        return null;
    }

    private PumpOutSeen Confirm(TankFall fall, double share)
    {
        double lowest = Math.Min(fall.Lowest, share);
        LastPumpOut = new PumpOutSeen(fall.FirstAt, fall.Before, lowest);
        DayPumped += fall.Before - lowest;
        (Level, Fall, Jump, BelowSince) = (share, null, null, null);
        return LastPumpOut;
    }

    private void Follow(double level, double share, DateTimeOffset at)
    {
        if (share <= level - LeastFall)
        {
            (Fall, Jump) = (new TankFall(level, at, share), null);
            return;
        }

        if (share >= level + LeastFall)
        {
            (Level, Jump) = Jump is { } jump ? (Math.Min(jump, share), null) : (level, (double?)share);
            BelowSince = null;
            return;
        }

        Jump = null;
        BelowSince = share < level ? BelowSince ?? at : null;
        if (BelowSince is null || at - BelowSince >= LowEnough)
        {
            (Level, BelowSince) = (share, null);
        }
    }

    private void TurnDay(DateOnly date, double level)
    {
        int days = date.DayNumber - Day.DayNumber;
        if (days <= 0)
        {
            return;
        }

        // Days without a reading share the rise that was found after them.
        double rise = Math.Max(0, level - DayStart + DayPumped) / days;
        DailyRises = [.. DailyRises.Concat(Enumerable.Repeat(rise, Math.Min(days, DaysKept))).TakeLast(DaysKept)];
        (Day, DayStart, DayPumped) = (date, level, 0);
    }
}
