using StationFleet.Domain.Fleet;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Simulation;

/// <summary>One boat that was cleaned, with the tools its people took.</summary>
/// <param name="At">When it came.</param>
/// <param name="Presses">How often each tool was switched on, in the order of the station's tools.</param>
/// <param name="Litres">What each tool would draw into the tank [L].</param>
internal sealed record Boat(DateTimeOffset At, int[] Presses, double[] Litres);

/// <summary>Boats at an access: a season hump, weekdays, hours, rain and holidays.</summary>
internal static class Traffic
{
    private const double ExtraPresses = 0.6;
    private const double QuietFactor = 0.1;

    // Makes the mean over 15 April to 31 October what the fleet file says, whatever hump, weekdays, rain, spells and events take and give.
    private const double SeasonScale = 1.48;

    // Half hours of the local day from 04:30 on: anglers first, then the long middle of the day (invented, no source).
    private static readonly double[] HalfHours =
    [
        2, 5, 8, 9, 9, 8, 8, 9, 10, 11, 12, 12, 12, 12, 13, 13, 14, 14, 14, 14, 13, 13, 12, 11, 10, 9, 8, 7, 5, 4, 3, 2, 1, 0.5,
    ];

    private static readonly double HalfHourSum = HalfHours.Sum();

    /// <summary>Boats that a day would bring on the mean.</summary>
    public static double Expected(StationPlan plan, FleetAccess access, DateOnly date, DayWeather weather)
    {
        double hump = 0.35 + (1.05 * Math.Exp(-Math.Pow((date.DayOfYear - 200) / 52.0, 2)));
        double holiday = plan.Holidays.FirstOrDefault(day => day.Date == date)?.Factor ?? 1;
        double mean = plan.BoatsPerDay.GetValueOrDefault(access.Slug, 8) * Weekday(date, plan.World) * hump * holiday;
        return mean * (weather.IsRainy ? plan.World.RainFactor : 1.0) * (IsQuiet(plan, date) ? QuietFactor : 1.0);
    }

    /// <summary>The boats of a local day, in order of time.</summary>
    public static IReadOnlyList<Boat> Of(StationPlan plan, FleetAccess access, DateOnly date, DayWeather weather)
    {
        string code = plan.Station.Code;
        Dice dice = Dice.For(plan.Seed, code + "/traffic", date.DayNumber);
        double expected = Expected(plan, access, date, weather);
        int count = dice.Poisson(expected * dice.Erlang(8, 1));
        UtcInterval day = LocalCalendar.Day(date, plan.Zone);
        DayHabits habits = DayHabits.Of(plan, date);
        List<Boat> boats = new(count);
        for (int i = 0; i < count; i++)
        {
            boats.Add(Draw(dice, Instant(dice, date, plan.Zone, day), habits));
        }

        AddEvent(boats, plan, access, date, day);
        boats.Sort((one, other) => one.At.CompareTo(other.At));
        return boats;
    }

    // A tournament or a club's outing: a block of boats within three hours of a weekend day.
    private static void AddEvent(List<Boat> boats, StationPlan plan, FleetAccess access, DateOnly date, UtcInterval day)
    {
        if (date.DayOfWeek is not (DayOfWeek.Saturday or DayOfWeek.Sunday) || plan.World.EventChance <= 0)
        {
            return;
        }

        Dice dice = Dice.For(plan.Seed, plan.Station.Code + "/event", date.DayNumber);
        if (!dice.Chance(plan.World.EventChance))
        {
            return;
        }

        DayHabits habits = DayHabits.Of(plan, date, atEvent: true);
        int count = dice.Poisson(plan.BoatsPerDay.GetValueOrDefault(access.Slug, 8) * dice.Between(1, 3));
        DateTimeOffset from = day.Start.AddHours(dice.Between(6, 14));
        for (int i = 0; i < count; i++)
        {
            boats.Add(Draw(dice, from.AddSeconds(Math.Floor(3 * 3600 * dice.Next())), habits));
        }
    }

    private static double Weekday(DateOnly date, World world) => (date.DayOfWeek, world.IsPlain) switch
    {
        (DayOfWeek.Friday, true) => 1.0,
        (DayOfWeek.Saturday, true) => 1.75,
        (DayOfWeek.Sunday, true) => 1.5,
        (_, true) => 0.7,
        (DayOfWeek.Friday, false) => 0.95 * SeasonScale,
        (DayOfWeek.Saturday, false) => 2.2 * SeasonScale,
        (DayOfWeek.Sunday, false) => 1.9 * SeasonScale,
        (DayOfWeek.Thursday, false) => 0.62 * SeasonScale,
        _ => 0.57 * SeasonScale,
    };

    private static bool IsQuiet(StationPlan plan, DateOnly date)
    {
        for (int ago = 0; ago < 8 && plan.World.QuietSpellChance > 0; ago++)
        {
            Dice spell = Dice.For(plan.Seed, plan.Station.Code + "/quiet", date.DayNumber - ago);
            if (spell.Chance(plan.World.QuietSpellChance) && ago < 3 + (int)(6 * spell.Next()))
            {
                return true;
            }
        }

        return false;
    }

    private static DateTimeOffset Instant(Dice dice, DateOnly date, TimeZoneInfo zone, UtcInterval day)
    {
        double draw = dice.Next() * HalfHourSum;
        int slot = 0;
        while (slot < HalfHours.Length - 1 && draw >= HalfHours[slot])
        {
            draw -= HalfHours[slot++];
        }

        DateTime local = date.ToDateTime(new TimeOnly(4, 30)).AddSeconds(Math.Floor((slot + dice.Next()) * 1800));
        DateTimeOffset at = new DateTimeOffset(local, zone.GetUtcOffset(local)).ToUniversalTime();
        return at <= day.Start ? day.Start.AddMinutes(1) : at >= day.End ? day.End.AddMinutes(-1) : at;
    }

    private static Boat Draw(Dice dice, DateTimeOffset at, DayHabits habits)
    {
        IReadOnlyList<ToolHabit> tools = habits.Tools;
        int[] presses = new int[tools.Count];
        double[] litres = new double[tools.Count];
        double lean = habits.BoatLean > 0 ? habits.BoatLean * dice.Normal() : 0;
        for (int attempt = 0; attempt < 20 && presses.All(n => n == 0); attempt++)
        {
            for (int tool = 0; tool < tools.Count; tool++)
            {
                bool used = dice.Chance(habits.Share(tool, lean));
                presses[tool] = used ? 1 + dice.Poisson(ExtraPresses) : 0;
                litres[tool] = used && tools[tool].LitresPerBoat > 0 ? dice.Erlang(2, tools[tool].LitresPerBoat) : 0;
            }
        }

        return new Boat(at, presses, litres);
    }
}
