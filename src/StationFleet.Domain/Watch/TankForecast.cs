using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>When something is expected, with its uncertainty.</summary>
/// <param name="Early">With a chance of one in ten it comes before.</param>
/// <param name="Likeliest">The middle, by chance, of the shortest stretch that holds half of the chance; null: later than is looked ahead.</param>
/// <param name="Middle">As likely before as after; null: later than is looked ahead.</param>
/// <param name="Late">With a chance of one in ten it comes after; null: later than is looked ahead.</param>
public sealed record ForecastWindow(DateTimeOffset Early, DateTimeOffset? Likeliest, DateTimeOffset? Middle, DateTimeOffset? Late);

/// <summary>What a problem tells of a filling tank, reckoned once an hour.</summary>
/// <param name="PerDay">Mean inflow of a mean day, as a share of capacity; null when not known.</param>
/// <param name="Window">When it will be full; null when that cannot be said.</param>
public sealed record TankOutlook(double? PerDay, ForecastWindow? Window)
{
    /// <summary>What a forecast says; null: there is none.</summary>
    internal static TankOutlook Of(TankForecast? forecast) => new(forecast?.PerDay, forecast?.Window);
}

/// <summary>When a station's tank will be full, seen from an instant.</summary>
public sealed class TankForecast
{
    private readonly TimeToFull _inflow;
    private readonly double _room;
    private readonly DateOnly _today;
    private readonly DateTimeOffset _start;
    private readonly DateTimeOffset _now;
    private readonly TimeZoneInfo _zone;
    private readonly bool _namesDates;

    private TankForecast(TimeToFull inflow, double room, DateOnly today, DateTimeOffset start, DateTimeOffset now, TimeZoneInfo zone, bool namesDates) =>
        (_inflow, _room, _today, _start, _now, _zone, _namesDates) = (inflow, room, today, start, now, zone, namesDates);

    /// <summary>Whether enough days are known to name dates.</summary>
    public bool NamesDates => _namesDates;

    /// <summary>What the tank still takes, as a share of capacity.</summary>
    public double Room => _room;

    /// <summary>Mean inflow of a mean day, as a share of capacity.</summary>
    public double PerDay => _inflow.Rate;

    /// <summary>When it will be full; null while too few days are known to name any, or when it does not fill within 70 days.</summary>
    public ForecastWindow? Window => _namesDates && When(0.1) is { } early ? new ForecastWindow(early, At(_inflow.LikeliestHours(_room)), When(0.5), When(0.9)) : null;

    /// <summary>Makes the forecast of a station; null while it cannot be made.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The present.</param>
    public static TankForecast? Of(StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(context);
        TankFacts tank = facts.Tank;
        IReadOnlyList<DayInflow> days = tank.KnownDays(context);
        if (tank is not { Level: { } level, Last: { } last } || context.Setup.Tank.At(level.Reading.At) is not { } setup || days.Count < TimeToFull.LeastDays)
        {
            return null;
        }

        // Of the time since the newest reading nothing is known: it lies ahead as well.
        DateTimeOffset from = last.At < now ? last.At : now;
        (DateOnly today, DateTimeOffset start) = context.DayOf(from);
        double[] factors = new double[TimeToFull.Days];
        for (int day = 0; day < factors.Length; day++)
        {
            factors[day] = context.IsQuietDay(today.AddDays(day)) ? 0 : context.FactorOf(today.AddDays(day));
        }

        double hidden = tank.NotShownYet(setup.CapacityLitres);
        InflowInput input = new(days, today, factors, tank.HourShares(), (from - start).TotalHours, tank.SoFar + hidden, tank.Sensor.KnownLitresPerUse(setup.CapacityLitres) / setup.CapacityLitres);
        return TimeToFull.Of(input) is { } inflow
            ? new TankForecast(inflow, 1 - level.Share - hidden, today, start, now, context.Setup.Zone, days.Count >= TimeToFull.DaysForDates)
            : null;
    }

    /// <summary>The chance that the tank is full by an instant.</summary>
    /// <param name="instant">The instant; not before the forecast was made.</param>
    public double ChanceBy(DateTimeOffset instant) => _inflow.ChanceBy(_room, Math.Min(24 * TimeToFull.Days, (instant - _start).TotalHours));

    /// <summary>When the chance that the tank is full reaches a value, now at the earliest; null when not within 70 days.</summary>
    /// <param name="chance">The chance, between 0 and 1.</param>
    public DateTimeOffset? When(double chance) => At(_inflow.HoursTo(_room, chance));

    private DateTimeOffset? At(int? hours) => hours is { } known
        ? Instants.Later(LocalCalendar.StartOf(_today.AddDays(known / 24), _zone).AddHours(known % 24), _now)
        : null;
}
