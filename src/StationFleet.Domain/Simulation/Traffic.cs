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

    // Half hours of the local day from 04:30 on: anglers first, then the long middle of the day (invented, no source).
    private static readonly double[] HalfHours =
    [
        2, 5, 8, 9, 9, 8, 8, 9, 10, 11, 12, 12, 12, 12, 13, 13, 14, 14, 14, 14, 13, 13, 12, 11, 10, 9, 8, 7, 5, 4, 3, 2, 1, 0.5,
    ];

    private static readonly double HalfHourSum = HalfHours.Sum();

    /// <summary>Boats that a day would bring on the mean.</summary>
    public static double Expected(double seasonMean, DateOnly date, DayWeather weather, IReadOnlyList<SimulatedHoliday> holidays)
    {
        double weekday = date.DayOfWeek switch
        {
            DayOfWeek.Friday => 1.0,
            DayOfWeek.Saturday => 1.75,
            DayOfWeek.Sunday => 1.5,
            _ => 0.7,
        };
        double hump = 0.35 + (1.05 * Math.Exp(-Math.Pow((date.DayOfYear - 200) / 52.0, 2)));
        double holiday = holidays.FirstOrDefault(day => day.Date == date)?.Factor ?? 1;
        return seasonMean * weekday * hump * holiday * (weather.IsRainy ? 0.35 : 1.0);
    }

    /// <summary>The boats of a local day, in order of time.</summary>
    public static IReadOnlyList<Boat> Of(Dice dice, double expected, DateOnly date, TimeZoneInfo zone, IReadOnlyList<ToolHabit> tools)
    {
        int count = dice.Poisson(expected * dice.Erlang(8, 1));
        UtcInterval day = LocalCalendar.Day(date, zone);
        List<Boat> boats = new(count);
        for (int i = 0; i < count; i++)
        {
            boats.Add(Draw(dice, Instant(dice, date, zone, day), tools));
        }

        boats.Sort((one, other) => one.At.CompareTo(other.At));
        return boats;
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

    private static Boat Draw(Dice dice, DateTimeOffset at, IReadOnlyList<ToolHabit> tools)
    {
        int[] presses = new int[tools.Count];
        double[] litres = new double[tools.Count];
        for (int attempt = 0; attempt < 20 && presses.All(n => n == 0); attempt++)
        {
            for (int tool = 0; tool < tools.Count; tool++)
            {
                bool used = dice.Chance(tools[tool].Share);
                presses[tool] = used ? 1 + dice.Poisson(ExtraPresses) : 0;
                litres[tool] = used && tools[tool].LitresPerBoat > 0 ? dice.Erlang(2, tools[tool].LitresPerBoat) : 0;
            }
        }

        return new Boat(at, presses, litres);
    }
}
