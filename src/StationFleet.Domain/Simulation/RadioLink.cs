using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Simulation;

/// <summary>How a drop-out of the radio ends.</summary>
internal enum Delivery
{
    /// <summary>Its reports arrive oldest first, one after the other.</summary>
    OneByOne,

    /// <summary>They arrive all at once.</summary>
    AtOnce,

    /// <summary>They never arrive.</summary>
    Never,
}

/// <summary>A stretch without radio.</summary>
internal readonly record struct RadioGap(DateTimeOffset From, DateTimeOffset To, Delivery Delivery)
{
    /// <summary>The longest one [h].</summary>
    public const double LongestHours = 36;

    /// <summary>The drop-outs that may touch a day.</summary>
    public static IEnumerable<RadioGap> Around(StationPlan plan, DateOnly date)
    {
        for (int day = date.DayNumber - 2; day <= date.DayNumber && plan.World.GapChance > 0; day++)
        {
            Dice dice = Dice.For(plan.Seed, plan.Station.Code + "/gap", day);
            if (!dice.Chance(plan.World.GapChance))
            {
                continue;
            }

            DateTimeOffset from = Time.LocalCalendar.StartOf(DateOnly.FromDayNumber(day), plan.Zone).AddHours(24 * dice.Next());
            double hours = Math.Min(LongestHours, 2 * Math.Exp(1.2 * dice.Normal()));
            double ending = dice.Next();
            yield return new RadioGap(
                from, from.AddMinutes(Math.Ceiling(60 * hours)), ending < 0.5 ? Delivery.OneByOne : ending < 0.75 ? Delivery.AtOnce : Delivery.Never);
        }
    }
}

/// <summary>When a simulated day's reports reach the server.</summary>
internal sealed class RadioLink(StationPlan plan, DateOnly date)
{
    private const double LostShare = 0.003;

    private readonly Dice _air = Dice.For(plan.Seed, plan.Station.Code + "/radio", date.DayNumber);
    private readonly Dice _again = Dice.For(plan.Seed, plan.Station.Code + "/again", date.DayNumber);
    private readonly double _stagger = 20 + Math.Floor(200 * Dice.At(plan.Seed, plan.Station.Code + "/stagger", 0));
    private readonly List<PlannedFault> _outages = [.. plan.Faults.Where(fault => fault.Kind == FaultKind.RadioOutage)];
    private List<RadioGap> _gaps = [];

    public void Begin(IReadOnlyList<Sample> samples) =>
        _gaps = plan.World.IsPlain ? WithinDay(samples) is { } gap ? [gap] : [] : [.. RadioGap.Around(plan, date)];

    /// <summary>When a report made at an instant arrives; null: never.</summary>
    public DateTimeOffset? Deliver(DateTimeOffset at)
    {
        DateTimeOffset? received = ReceivedAt(at);
        return received is not null && !_air.Chance(LostShare) ? received : null;
    }

    /// <summary>When the same report arrives once more; null when it does not.</summary>
    public DateTimeOffset? Repeat(DateTimeOffset arrival) =>
        plan.World.RepeatChance > 0 && _again.Chance(plan.World.RepeatChance) ? arrival.AddSeconds(Math.Floor(_again.Between(30, 1200))) : null;

    private DateTimeOffset? ReceivedAt(DateTimeOffset at)
    {
        double jitter = 8 * _air.Next();
        double slow = _air.Chance(0.02) ? _air.Between(30, 90) : 0;
        DateTimeOffset usual = at.AddSeconds(_stagger + Math.Round(jitter + slow, 3));
        foreach (PlannedFault fault in _outages)
        {
            if (fault.From <= usual && usual < (fault.To ?? DateTimeOffset.MaxValue))
            {
                // A card is read in one go; from the controller's memory reports come oldest first, half a second apart.
                double wait = fault.Card ? 0 : Since(fault.From, at) * 0.5;
                return fault.Lost ? null : fault.To?.AddSeconds(20 + wait);
            }
        }

        foreach (RadioGap gap in _gaps)
        {
            if (gap.From <= usual && usual < gap.To)
            {
                return gap.Delivery == Delivery.Never ? null : gap.To.AddSeconds(20 + (gap.Delivery == Delivery.AtOnce ? 0 : 2 * Since(gap.From, at)));
            }
        }

        return plan.World.LateChance > 0 && _again.Chance(plan.World.LateChance) ? usual.AddSeconds(Math.Floor(_again.Between(900, 7200))) : usual;
    }

    private double Since(DateTimeOffset from, DateTimeOffset at) => Math.Floor((at - from).TotalMinutes / plan.Station.ReportEveryMinutes);

    // In a plain world: now and then an hour or two without radio, within the day.
    private RadioGap? WithinDay(IReadOnlyList<Sample> samples)
    {
        if (!_air.Chance(0.06) || samples.Count < 2)
        {
            return null;
        }

        DateTimeOffset from = samples[(int)(_air.Next() * samples.Count)].At;
        DateTimeOffset to = from.AddMinutes(Math.Floor(_air.Between(20, 140)));
        return new RadioGap(from, to < samples[^1].At ? to : samples[^1].At, Delivery.OneByOne);
    }
}
