namespace StationFleet.Domain.Power;

/// <summary>A day of a station's past, as the outlook draws it again.</summary>
/// <param name="Date">The local date.</param>
/// <param name="SunShare">What the panel could give, as a share of what it would as rated under a clear sky.</param>
/// <param name="DayWatts">Mean load while the sun was up [W].</param>
/// <param name="NightWatts">Mean load of the night before [W].</param>
/// <param name="FullAtDusk">The charge at its dusk when the battery had enough, 0 to 1; null when it had not.</param>
public readonly record struct DrawnDay(DateOnly Date, double SunShare, double DayWatts, double NightWatts, double? FullAtDusk = null);

/// <summary>A stretch between two sunrises and sunsets ahead.</summary>
/// <param name="From">Its beginning.</param>
/// <param name="To">Its end.</param>
/// <param name="Date">The local date on which it begins.</param>
/// <param name="IsDay">Whether the sun is up.</param>
/// <param name="ClearWattHours">What the panel as rated would give in it under a clear sky [Wh].</param>
public readonly record struct SunStretch(DateTimeOffset From, DateTimeOffset To, DateOnly Date, bool IsDay, double ClearWattHours);

/// <summary>
/// A battery's charge over the coming days, drawn many times from the station's own past: blocks of three days in a row for the
/// weather, days of the same kind (weekday or weekend) for the load, and the sun of the season ahead.
/// </summary>
/// <remarks>
/// A block bootstrap (H. R. Künsch, Annals of Statistics 17 (1989) 1217, from memory). The draws are seeded: the same past gives
/// the same outlook.
/// </remarks>
public sealed class ChargeOutlook
{
    /// <summary>How often the coming days are drawn.</summary>
    public const int Draws = 300;

    /// <summary>Fewer days of past give no outlook.</summary>
    public const int LeastDays = 7;

    private const int BlockDays = 3;
    private const double ChargeEfficiency = 0.95;

    private readonly IReadOnlyList<SunStretch> _stretches;
    private readonly float[] _charges;
    private readonly int _width;

    private ChargeOutlook(IReadOnlyList<SunStretch> stretches) =>
        (_stretches, _width, _charges) = (stretches, stretches.Count + 1, new float[Draws * (stretches.Count + 1)]);

    /// <summary>Draws the coming days.</summary>
    /// <param name="chargeShare">The charge now, 0 to 1.</param>
    /// <param name="uncertainty">Its standard uncertainty, 0 to 1.</param>
    /// <param name="capacityWattHours">What the battery holds [Wh].</param>
    /// <param name="past">The last days, in order; at least <see cref="LeastDays"/>.</param>
    /// <param name="stretches">The stretches ahead, in order and without gaps; at least one.</param>
    /// <param name="seed">Where the draws begin.</param>
    public static ChargeOutlook Of(
        double chargeShare,
        double uncertainty,
        double capacityWattHours,
        ReadOnlySpan<DrawnDay> past,
        IReadOnlyList<SunStretch> stretches,
        long seed)
    {
        ArgumentNullException.ThrowIfNull(stretches);
        ArgumentOutOfRangeException.ThrowIfLessThan(past.Length, LeastDays, nameof(past));
        ChargeOutlook outlook = new(stretches);
        Span<int> weekdays = stackalloc int[past.Length];
        Span<int> weekends = stackalloc int[past.Length];
        (int weekdayCount, int weekendCount) = (0, 0);
        for (int i = 0; i < past.Length; i++)
        {
            if (IsWeekend(past[i].Date))
            {
                weekends[weekendCount++] = i;
            }
            else
            {
                weekdays[weekdayCount++] = i;
            }
        }

        Span<bool> isWeekend = stackalloc bool[stretches.Count];
        for (int i = 0; i < stretches.Count; i++)
        {
            isWeekend[i] = IsWeekend(stretches[i].Date);
        }

        // What a meter calls full by dusk is rarely 100 %.
        (double dusks, int full) = (0, 0);
        foreach (DrawnDay day in past)
        {
            (dusks, full) = day.FullAtDusk is { } dusk ? (dusks + dusk, full + 1) : (dusks, full);
        }

        double usualFull = full > 0 ? dusks / full : 1;
        Random64 random = new(unchecked((ulong)seed));
        for (int draw = 0; draw < Draws; draw++)
        {
            double charge = Math.Clamp(chargeShare + (uncertainty * random.NextNormal()), 0, 1);
            Span<float> row = outlook._charges.AsSpan(draw * outlook._width, outlook._width);
            row[0] = (float)charge;
            (DateOnly date, int inBlock, int weather, int load) = (DateOnly.MinValue, BlockDays, 0, 0);
            double ceiling = usualFull;
            for (int i = 0; i < stretches.Count; i++)
            {
                SunStretch stretch = stretches[i];
                if (stretch.Date != date)
                {
                    date = stretch.Date;
                    if (inBlock == BlockDays)
                    {
                        (inBlock, weather) = (0, random.Next(past.Length - BlockDays + 1));
                    }

                    load = (isWeekend[i], weekdayCount, weekendCount) switch
                    {
                        (true, _, > 0) => weekends[random.Next(weekendCount)],
                        (false, > 0, _) => weekdays[random.Next(weekdayCount)],
                        _ => random.Next(past.Length),
                    };
                    inBlock++;
                }

                double hours = (stretch.To - stretch.From).TotalHours;
                double gained = stretch.IsDay
                    ? (ChargeEfficiency * past[weather + inBlock - 1].SunShare * stretch.ClearWattHours) - (past[load].DayWatts * hours)
                    : -past[load].NightWatts * hours;
                ceiling = stretch.IsDay ? past[weather + inBlock - 1].FullAtDusk ?? usualFull : ceiling;
                double next = Math.Max(0, charge + (gained / capacityWattHours));
                charge = stretch.IsDay ? Math.Min(next, Math.Max(charge, ceiling)) : next;
                row[i + 1] = (float)charge;
            }
        }

        return outlook;
    }

    /// <summary>The charge at an instant ahead.</summary>
    /// <param name="at">The instant; before or after the stretches it counts as their beginning or end.</param>
    public ChargeBand At(DateTimeOffset at)
    {
        float[] charges = new float[Draws];
        for (int draw = 0; draw < Draws; draw++)
        {
            charges[draw] = (float)ChargeAt(draw, at);
        }

        Array.Sort(charges);
        return new ChargeBand(at, Quantile(charges, 0.1), Quantile(charges, 0.5), Quantile(charges, 0.9));
    }

    /// <summary>The charge at each sunrise and sunset ahead, for a picture.</summary>
    public IEnumerable<ChargeBand> Bands() => _stretches.Select(stretch => stretch.From).Append(_stretches[^1].To).Select(At);

    /// <summary>When the charge falls under a limit.</summary>
    /// <param name="limitShare">The limit, 0 to 1.</param>
    /// <param name="response">How long it takes until somebody can be there.</param>
    public ChargeForecast Under(double limitShare, TimeSpan response)
    {
        DateTimeOffset now = _stretches[0].From;
        long[] crossings = new long[Draws];
        for (int draw = 0; draw < Draws; draw++)
        {
            crossings[draw] = Crossing(draw, (float)limitShare);
        }

        Array.Sort(crossings);
        return new ChargeForecast(
            now, At(now).Middle, limitShare, Before(now + response), Before(now.AddDays(3)), When(0.1), Likeliest(), When(0.9));

        double Before(DateTimeOffset at)
        {
            int count = 0;
            while (count < Draws && crossings[count] <= at.UtcTicks)
            {
                count++;
            }

            return (double)count / Draws;
        }

        // As TimeToFull.LikeliestHours, but from draws: each of them may begin the shortest half.
        DateTimeOffset? Likeliest()
        {
            const int half = Draws / 2;
            (long Length, int First) shortest = (long.MaxValue, 0);
            for (int i = 0; i + half < Draws && crossings[i + half] < long.MaxValue; i++)
            {
                long length = crossings[i + half] - crossings[i];
                shortest = length < shortest.Length ? (length, i) : shortest;
            }

            return shortest.Length < long.MaxValue ? Minute(crossings[shortest.First + (half / 2)]) : null;
        }

        DateTimeOffset? When(double share) => crossings[(int)(share * Draws)] is var ticks && ticks == long.MaxValue ? null : Minute(ticks);

        static DateTimeOffset Minute(long ticks) => new(ticks - (ticks % TimeSpan.TicksPerMinute), TimeSpan.Zero);
    }

    // In ticks; the greatest number when it does not.
    private long Crossing(int draw, float limit)
    {
        ReadOnlySpan<float> row = _charges.AsSpan(draw * _width, _width);
        if (row[0] < limit)
        {
            return _stretches[0].From.UtcTicks;
        }

        for (int i = 1; i < row.Length; i++)
        {
            if (row[i] < limit)
            {
                SunStretch stretch = _stretches[i - 1];
                double share = (row[i - 1] - limit) / (row[i - 1] - row[i]);
                return stretch.From.UtcTicks + (long)(share * (stretch.To - stretch.From).Ticks);
            }
        }

        return long.MaxValue;
    }

    private double ChargeAt(int draw, DateTimeOffset at)
    {
        ReadOnlySpan<float> row = _charges.AsSpan(draw * _width, _width);
        if (at <= _stretches[0].From)
        {
            return row[0];
        }

        for (int i = 0; i < _stretches.Count; i++)
        {
            SunStretch stretch = _stretches[i];
            if (at <= stretch.To)
            {
                double share = (at - stretch.From) / (stretch.To - stretch.From);
                return row[i] + (share * (row[i + 1] - row[i]));
            }
        }

        return row[^1];
    }

    private static double Quantile(float[] sorted, double share) => sorted[(int)Math.Round(share * (sorted.Length - 1))];

    private static bool IsWeekend(DateOnly date) => date.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday;

    /// <summary>SplitMix64 (Steele, Lea and Flood, OOPSLA 2014), as a value: hundreds of draws cost no object.</summary>
    private struct Random64(ulong state)
    {
        private ulong _state = state;

        public int Next(int below) => (int)(((NextBits() >> 32) * (ulong)below) >> 32);

        public double NextNormal() => Math.Sqrt(-2 * Math.Log(1 - NextDouble())) * Math.Cos(2 * Math.PI * NextDouble());

        private double NextDouble() => (NextBits() >> 11) * (1.0 / (1UL << 53));

        private ulong NextBits()
        {
            unchecked
            {
                ulong z = _state += 0x9E3779B97F4A7C15;
                z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
                z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
                return z ^ (z >> 31);
            }
        }
    }
}
