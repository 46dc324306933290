using StationFleet.Domain.Power;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The rule Low charge: the battery runs down. It asks for a visit while there is still time to come: when the charge will more
/// likely than not be under its limit before somebody can be there.
/// </summary>
public static class LowCharge
{
    /// <summary>How far over its limit the charge must rise before the problem clears: 10 points (common practice, no source).</summary>
    public const double DeadBand = 0.10;

    /// <summary>How long the charge must stay on the other side of a limit before that counts: passing loads pull it down for minutes.</summary>
    public static readonly TimeSpan Delay = TimeSpan.FromHours(1);

    /// <summary>So likely must it be that the charge is under its limit before somebody can be there.</summary>
    public const double RaiseFrom = ChargeForecast.LikelyFrom;

    /// <summary>How often the charge is forecast at most.</summary>
    internal static readonly TimeSpan ForecastEvery = TimeSpan.FromHours(1);

    /// <summary>How often while it is far from its limit.</summary>
    internal static readonly TimeSpan ForecastEveryAtEase = TimeSpan.FromHours(6);

    private const int PastDays = 30;
    private const double ReportedUncertainty = 0.003;
    // A clean panel behind its controller on a fair day; used only while every known day filled the battery at once (common practice).
    private const double SunAtFirst = 0.6;
    private const double EasyUnder = 0.02;
    private static readonly TimeSpan Stale = TimeSpan.FromHours(12);

    /// <summary>Whether the newest charge lies under the limit.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit, 0 to 1.</param>
    public static bool IsUnder(StationFacts facts, double limitShare) => facts.Charge?.Value < limitShare;

    /// <summary>Whether the newest charge lies over the limit by the dead-band; a full battery always does.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit, 0 to 1.</param>
    public static bool IsClear(StationFacts facts, double limitShare) => facts.Charge?.Value >= Math.Min(1, limitShare + DeadBand);

    /// <summary>The numbers behind the judgement, or null without a reading.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="limitShare">The limit that it fell under, or will, 0 to 1.</param>
    /// <param name="forecast">When it will, as far as can be told.</param>
    public static LowChargeEvidence? Evidence(StationFacts facts, double limitShare, ChargeForecast? forecast = null) =>
        facts.Charge is { } charge ? new LowChargeEvidence(charge.Value, limitShare, facts.Power.Source, forecast) : null;

    /// <summary>The forecast by which an instant is judged: the known one, or a new one when it is due and something new was measured.</summary>
    /// <param name="known">The last forecast; null: none yet.</param>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    /// <returns>The forecast; null when nothing can be said.</returns>
    internal static ChargeForecast? Forecast(ChargeForecast? known, StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        if (facts.Charge is not { } charge || now - charge.At > Stale)
        {
            return null;
        }

        // At full hours only, so that late and timely runs judge by the same forecasts.
        if (now.UtcTicks % ForecastEvery.Ticks != 0)
        {
            return known;
        }

        RuleSettings rules = context.Setup.Rules;
        bool isAtEase = known is { WithinThreeDays: < EasyUnder } && charge.Value > rules.ChargeSoonShare + DeadBand;
        bool isDue = known is null
            || (charge.At > known.MadeAt && now - known.MadeAt >= (isAtEase ? ForecastEveryAtEase : ForecastEvery))
            || known.LimitShare != rules.ChargeRaiseShare;
        return isDue ? Outlook(facts, context, now)?.Under(rules.ChargeRaiseShare, TimeSpan.FromHours(rules.ChargeResponseHours)) : known;
    }

    /// <summary>How the charge may go on in the coming week; null while too little is known.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The present.</param>
    public static ChargeOutlook? Outlook(StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(context);
        if (facts.Charge is not { } charge || facts.Power.Source == ChargeSource.FullOrEmpty
            || context.Setup.Power is not { PanelWatts: > 0 } power || context.SunOver(now) is not { } place)
        {
            return null;
        }

        Span<DrawnDay> past = stackalloc DrawnDay[PastDays];
        ReadOnlySpan<PowerDay> days = facts.Power.Days.AsSpan(Math.Max(0, facts.Power.Days.Length - PastDays));
        double usual = UsualSun(days);
        int count = 0;
        foreach (PowerDay known in days)
        {
            if (known.DayWatts is { } day && (known.SunShare is not null || known.FullAtDusk is not null))
            {
                past[count++] = new DrawnDay(known.Date, known.SunShare ?? usual, day, known.NightWatts ?? known.BaseWatts ?? day, known.FullAtDusk);
            }
        }

        CalmLoads(past[..count], days);
        return count < ChargeOutlook.LeastDays ? null : ChargeOutlook.Of(
            charge.Value,
            facts.Power.Source == ChargeSource.Reported ? ReportedUncertainty : RestVoltage.Uncertainty,
            AgedBattery.ReckonedWattHours(facts, power),
            past[..count],
            Stretches(place, context, now),
            Seed(context.Setup.Code));
    }

    // Of a day that filled the battery at once nothing more is known than that: it counts as the other days that did.
    private static double UsualSun(ReadOnlySpan<PowerDay> days)
    {
        (double full, int fullCount, double all, int count) = (0, 0, 0, 0);
        foreach (PowerDay day in days)
        {
            if (day.SunShare is { } sun)
            {
                (all, count) = (all + sun, count + 1);
                (full, fullCount) = day.FullAtDusk is null ? (full, fullCount) : (full + sun, fullCount + 1);
            }
        }

        return fullCount > 0 ? full / fullCount : count > 0 ? all / count : SunAtFirst;
    }

    // Days seem to differ more than they do, since their loads are sampled: each is drawn towards the mean by the share that is noise.
    private static void CalmLoads(Span<DrawnDay> past, ReadOnlySpan<PowerDay> days)
    {
        foreach (bool isWeekend in (ReadOnlySpan<bool>)[false, true])
        {
            (double sum, double squares, double noise, int count) = (0, 0, 0, 0);
            foreach (PowerDay day in days)
            {
                if (day is { DayWatts: { } watts, DayNoise: { } off } && IsWeekend(day.Date) == isWeekend)
                {
                    (sum, squares, noise, count) = (sum + watts, squares + (watts * watts), noise + (off * off), count + 1);
                }
            }

            double mean = count > 0 ? sum / count : 0;
            double spread = count > 1 ? (squares / count) - (mean * mean) : 0;
            double kept = spread > 0 ? Math.Sqrt(Math.Max(0, 1 - (noise / count / spread))) : 1;
            for (int i = 0; i < past.Length; i++)
            {
                if (IsWeekend(past[i].Date) == isWeekend)
                {
                    past[i] = past[i] with { DayWatts = mean + (kept * (past[i].DayWatts - mean)) };
                }
            }
        }
    }

    private static bool IsWeekend(DateOnly date) => date.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday;

    private static List<SunStretch> Stretches(PanelPlace place, FactsContext context, DateTimeOffset now)
    {
        List<SunStretch> stretches = [];
        DateTimeOffset end = now + ChargeForecast.Ahead;
        DateTimeOffset at = now;
        DateOnly date = LocalCalendar.DateOf(now, context.Setup.Zone);
        for (; at < end; date = date.AddDays(1))
        {
            (SunDay sun, double clear) = context.SunDayOf(place, date);
            if (sun is not { Rise: { } rise, Set: { } set })
            {
                rise = set = context.NextDay(sun.Noon);
            }

            if (at < rise)
            {
                // The night before belongs to the evening that it began with.
                stretches.Add(new SunStretch(at, rise, at == now ? date : date.AddDays(-1), IsDay: false, 0));
                at = rise;
            }

            if (at < set)
            {
                double watt = at == rise ? clear : place.Sun.ClearWattHours(at, set);
                stretches.Add(new SunStretch(at, set, date, IsDay: true, watt));
                at = set;
            }
        }

        return stretches;
    }

    // FNV-1a: the same station draws the same numbers, so that two forecasts in a row differ by what was measured.
    private static long Seed(string code)
    {
        ulong hash = 14695981039346656037;
        foreach (char letter in code)
        {
            hash = unchecked((hash ^ letter) * 1099511628211);
        }

        return unchecked((long)hash);
    }
}
