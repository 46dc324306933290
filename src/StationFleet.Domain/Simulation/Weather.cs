namespace StationFleet.Domain.Simulation;

/// <summary>A day's weather over a whole region.</summary>
/// <param name="Clearness">Share of the clear sky's sun that comes through on the day's mean, 0 to 1.</param>
/// <param name="IsRainy">Whether it keeps boaters at home.</param>
/// <param name="MeanTempC">Mean air temperature [°C].</param>
internal readonly record struct DayWeather(double Clearness, bool IsRainy, double MeanTempC)
{
    /// <summary>Degrees above and below the mean within a day [°C].</summary>
    public double SwingC => 4 + (8 * Clearness);
}

/// <summary>Invented mountain-summer weather: spells of some days, each day drawn without its predecessor.</summary>
internal static class Weather
{
    private const double SpellDays = 2.5;

    // 29 % of days are wet, in spells of about two.
    private const double WetAfterDry = 0.19;
    private const double WetAfterWet = 0.535;

    public static DayWeather Of(long seed, DateOnly date, World world)
    {
        if (!world.IsPlain)
        {
            return InSpells(seed, date);
        }

        // Values at knots some days apart, joined smoothly: neighbouring days are alike, yet any day stands alone.
        double mood = (0.7 * Knots(seed, "weather", date.DayNumber / SpellDays)) + (0.3 * Dice.At(seed, "weather-day", date.DayNumber));
        double season = Math.Cos(2 * Math.PI * (date.DayOfYear - 205) / 365.25);
        double clearness = Math.Clamp(1.12 - (0.22 * (1 - season)) - (0.95 * Math.Pow(mood, 2.2)), 0.15, 1);
        return new DayWeather(clearness, clearness < 0.55, 9 + (10 * season) + (7 * (clearness - 0.7)));
    }

    private static DayWeather InSpells(long seed, DateOnly date)
    {
        bool wet = IsWet(seed, date.DayNumber);
        double within = Dice.At(seed, "clearness", date.DayNumber);
        double clearness = wet ? 0.15 + (0.38 * within) : 0.58 + (0.42 * Math.Sqrt(within));
        double season = Math.Cos(2 * Math.PI * (date.DayOfYear - 205) / 365.25);
        return new DayWeather(clearness, wet, 9 + (10 * season) + (7 * (clearness - 0.7)));
    }

    // A two-state Markov chain that can be asked for any day: some draws decide the day whatever the day before was.
    private static bool IsWet(long seed, int day)
    {
        for (; ; day--)
        {
            double draw = Dice.At(seed, "rain", day);
            if (draw < WetAfterDry)
            {
                return true;
            }

            if (draw >= WetAfterWet)
            {
                return false;
            }
        }
    }

    /// <summary>What passing clouds leave of the sun at an instant, 0 to 1.</summary>
    public static double Through(long seed, DayWeather day, DateTimeOffset at)
    {
        // A clear day flickers little, a dull one little too, a mixed one much.
        double mixed = 4 * day.Clearness * (1 - day.Clearness);
        double flicker = Knots(seed, "cloud", at.ToUnixTimeSeconds() / 2400.0) - 0.5;
        return Math.Clamp(day.Clearness + (0.9 * mixed * flicker), 0.05, 1);
    }

    private static double Knots(long seed, string what, double x)
    {
        long left = (long)Math.Floor(x);
        double part = x - left;
        double smooth = part * part * (3 - (2 * part));
        return (Dice.At(seed, what, left) * (1 - smooth)) + (Dice.At(seed, what, left + 1) * smooth);
    }
}
