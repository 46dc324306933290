using StationFleet.Domain.Tanks;

namespace StationFleet.Domain.Watch;

/// <summary>How a tank's sensor behaves: what tells a sensor that stands still, jumps or creeps from one that is in order.</summary>
public sealed record TankSensorFacts
{
    /// <summary>How far from the level a reading is a jump, as a share of capacity.</summary>
    public const double JumpShare = 0.05;

    private const double DeviationOfNoise = 0.8;
    private const double MedianOfNoise = 0.46;
    private const double LitresPerUseAtFirst = 4;
    private const double UsesAtFirst = 5;
    private const int SameLearned = 12;
    private const double TooOddToBeChance = 1e-6;
    private const double LeastFlat = 0.01;
    private const double CreepPerHour = 0.0045 / 24;
    private const double LeastNightNoise = 0.001;
    private const double MostOfANight = 3;

    private static readonly double FadingOfDay = Math.Pow(2, -1.0 / 288);
    private static readonly double FadingOf14 = Math.Pow(2, -1.0 / 14);
    private static readonly TimeSpan JumpHalfLife = TimeSpan.FromHours(6);
    private static readonly TimeSpan ShortestNight = TimeSpan.FromHours(4);

    /// <summary>The newest value that the sensor sent.</summary>
    public double? Value { get; init; }

    /// <summary>Readings in a row that sent this same value, beyond the first.</summary>
    public int Same { get; init; }

    /// <summary>Since when it sends this value.</summary>
    public DateTimeOffset? SameSince { get; init; }

    /// <summary>Uses of the tools that fill the tank since then.</summary>
    public double UsesSinceSame { get; init; }

    /// <summary>Pairs of neighbouring readings, fading with half of the weight on 288.</summary>
    public double Pairs { get; init; }

    /// <summary>…of them with the same value.</summary>
    public double SamePairs { get; init; }

    /// <summary>Sum of the readings' distances from the level, each at most 5 % of capacity, fading likewise.</summary>
    public double Distances { get; init; }

    /// <summary>Since when the level has not moved.</summary>
    public DateTimeOffset? FlatSince { get; init; }

    /// <summary>The level then.</summary>
    public double FlatLevel { get; init; }

    /// <summary>Uses of the tools that fill the tank since then.</summary>
    public double FlatUses { get; init; }

    /// <summary>Jumps to another level and back, fading with half of the weight on six hours.</summary>
    public double Jumps { get; init; }

    /// <summary>When the last of them ended.</summary>
    public DateTimeOffset? JumpsAt { get; init; }

    /// <summary>The level from which the readings jumped; null while they agree.</summary>
    public double? LevelBefore { get; init; }

    /// <summary>The beginning of a night without use; null while there is none.</summary>
    public DateTimeOffset? NightFrom { get; init; }

    /// <summary>The level then.</summary>
    public double NightLevel { get; init; }

    /// <summary>Cumulative sum of nightly losses, in standard deviations, over half a percent of capacity a day.</summary>
    public double Loss { get; init; }

    /// <summary>The same of gains.</summary>
    public double Gain { get; init; }

    /// <summary>What the nights since the sums were last 0 changed, as a share of capacity.</summary>
    public double CreepShare { get; init; }

    /// <summary>Hours of these nights [h].</summary>
    public double CreepHours { get; init; }

    /// <summary>The number of these nights.</summary>
    public int CreepNights { get; init; }

    /// <summary>The last use of a tool that fills the tank.</summary>
    public DateTimeOffset? LastUse { get; init; }

    /// <summary>Uses of these tools on the day that is being added up.</summary>
    public double DayUses { get; init; }

    /// <summary>Inflow of whole days, as a share of capacity, fading with half of the weight on 14 days.</summary>
    public double Inflow { get; init; }

    /// <summary>Uses of these days, fading likewise.</summary>
    public double Uses { get; init; }

    /// <summary>Standard deviation of a single reading, as a share of capacity.</summary>
    public double Noise => Pairs > 0 ? Distances / Pairs / DeviationOfNoise : 0;

    /// <summary>Whether the same value comes so often in a row, while tools are used, that nothing should be learned from it; or it jumps.</summary>
    public bool IsInDoubt => Jumps > TankSensor.JumpsOn || (UsesSinceSame > 0 && IsSameTooOften);

    /// <summary>Whether so many same values in a row never come by chance, going by how often two neighbours are the same.</summary>
    public bool IsSameTooOften => Same > 0 && Same * Math.Log((SamePairs + 5) / (Pairs + 10)) <= Math.Log(TooOddToBeChance);

    /// <summary>How far the level may wander without having moved, as a share of capacity.</summary>
    internal double FlatWithin => Math.Max(LeastFlat, 3 * MedianOfNoise * Noise);

    /// <summary>What a use adds on average [L].</summary>
    /// <param name="capacityLitres">The tank's capacity [L].</param>
    public double LitresPerUse(double capacityLitres) =>
        ((Inflow * capacityLitres) + (UsesAtFirst * LitresPerUseAtFirst)) / (Uses + UsesAtFirst);

    /// <summary>What a use adds on average, before that is known as it usually is [L].</summary>
    /// <param name="capacityLitres">The tank's capacity [L].</param>
    internal double KnownLitresPerUse(double capacityLitres) => Uses < TankSensor.LeastUses ? LitresPerUseAtFirst : LitresPerUse(capacityLitres);

    /// <summary>The jumps as they weigh at an instant.</summary>
    /// <param name="at">The instant.</param>
    public double JumpsBy(DateTimeOffset at) => JumpsAt is { } last ? Jumps * Math.Pow(2, -((at - last) / JumpHalfLife)) : 0;

    /// <summary>The facts after one more reading.</summary>
    /// <param name="sample">The reading.</param>
    /// <param name="level">The level before it.</param>
    /// <param name="lastAt">The reading before it.</param>
    /// <param name="context">The station.</param>
    internal TankSensorFacts Take(TankSample sample, TankSample level, DateTimeOffset lastAt, FactsContext context)
    {
        DateTimeOffset at = sample.Reading.At;
        TankSensorFacts next = TakeValue(sample, level).TakeJump(sample, level.Share);
        next = FlatSince is null || Math.Abs(level.Share - FlatLevel) > FlatWithin
            ? next with { FlatSince = at, FlatLevel = level.Share, FlatUses = 0 }
            : next;
        return next.TakeNight(sample, level.Share, lastAt, context);
    }

    /// <summary>The facts after uses of tools that fill the tank.</summary>
    /// <param name="uses">How many.</param>
    /// <param name="at">When they were told.</param>
    internal TankSensorFacts WithUses(double uses, DateTimeOffset at) => this with
    {
        UsesSinceSame = UsesSinceSame + uses, FlatUses = FlatUses + uses, DayUses = DayUses + uses, LastUse = at,
    };

    /// <summary>The facts at the end of a day.</summary>
    /// <param name="inflow">What came in, as a share of capacity; null when it is not known.</param>
    internal TankSensorFacts EndDay(double? inflow) => inflow is { } known
        ? this with { Inflow = (Inflow * FadingOf14) + known, Uses = (Uses * FadingOf14) + DayUses, DayUses = 0 }
        : this with { DayUses = 0 };

    /// <summary>The facts when another tank or calibration holds from now on: what was learned of levels is worth nothing.</summary>
    internal TankSensorFacts Anew() => new() { LastUse = LastUse };

    /// <summary>The facts when the level fell in one go.</summary>
    /// <param name="level">The new level.</param>
    internal TankSensorFacts AfterPumpOut(double level) => this with { LevelBefore = null, NightFrom = null, FlatLevel = level, FlatUses = 0 };

    /// <summary>The facts when a person has seen to the sensor.</summary>
    internal TankSensorFacts SeenTo() => this with
    {
        Same = 0, SameSince = null, UsesSinceSame = 0, FlatSince = null, FlatUses = 0, Jumps = 0, LevelBefore = null,
        NightFrom = null, Loss = 0, Gain = 0, CreepShare = 0, CreepHours = 0, CreepNights = 0,
    };

    private TankSensorFacts TakeValue(TankSample sample, TankSample level)
    {
        if (Value is not { } before)
        {
            return this with { Value = sample.Reading.Value, SameSince = sample.Reading.At };
        }

        bool isSame = before == sample.Reading.Value;
        TankSensorFacts next = isSame
            ? this with { Same = Same + 1, SameSince = SameSince ?? sample.Reading.At }
            : this with { Value = sample.Reading.Value, Same = 0, SameSince = sample.Reading.At, UsesSinceSame = 0 };

        // A value that stands still for hours must not teach that standing still is usual.
        return next.Same > SameLearned
            ? next
            : next with
            {
                Pairs = (Pairs * FadingOfDay) + 1,
                SamePairs = (SamePairs * FadingOfDay) + (isSame ? 1 : 0),
                Distances = (Distances * FadingOfDay) + Math.Min(JumpShare, Math.Abs(sample.Share - level.Share)),
            };
    }

    private TankSensorFacts TakeJump(TankSample sample, double level)
    {
        bool isOff = Math.Abs(sample.Share - level) > JumpShare;
        if (isOff || LevelBefore is not { } from)
        {
            return isOff && LevelBefore is null ? this with { LevelBefore = level } : this;
        }

        // A boat's water stays; a false echo goes away again.
        bool isBack = Math.Abs(sample.Share - from) <= JumpShare;
        DateTimeOffset at = sample.Reading.At;
        return isBack ? this with { LevelBefore = null, Jumps = JumpsBy(at) + 1, JumpsAt = at } : this with { LevelBefore = null };
    }

    private TankSensorFacts TakeNight(TankSample sample, double level, DateTimeOffset lastAt, FactsContext context)
    {
        DateTimeOffset at = sample.Reading.At;
        double hour = (at - context.DayOf(at).Start).TotalHours;

        // Uncorrected echoes get longer as the night cools: that looks like a leak.
        bool isCorrected = context.Setup.Tank.At(at)?.SensorAssumesC is null || sample.Reading.AirTempC is not null;
        bool isStill = (hour >= 22 || hour < 6) && isCorrected && !(at - LastUse < LevelWindow.Length) && at - lastAt < ShortestNight;
        if (NightFrom is not { } from)
        {
            return isStill ? this with { NightFrom = at, NightLevel = level } : this;
        }

        return isStill ? this : (lastAt - from < ShortestNight ? this : EndNight(level - NightLevel, lastAt - from)) with { NightFrom = null };
    }

    private TankSensorFacts EndNight(double change, TimeSpan length)
    {
        double noise = Math.Max(LeastNightNoise, MedianOfNoise * Noise);
        double allowed = CreepPerHour * length.TotalHours;

        // One night proves nothing, however much it changed.
        double loss = Math.Max(0, Loss + Math.Min(MostOfANight, (-change - allowed) / noise));
        double gain = Math.Max(0, Gain + Math.Min(MostOfANight, (change - allowed) / noise));
        return loss + gain == 0
            ? this with { Loss = 0, Gain = 0, CreepShare = 0, CreepHours = 0, CreepNights = 0 }
            : this with { Loss = loss, Gain = gain, CreepShare = CreepShare + change, CreepHours = CreepHours + length.TotalHours, CreepNights = CreepNights + 1 };
    }
}
