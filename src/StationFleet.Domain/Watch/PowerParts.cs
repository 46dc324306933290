using System.Text.Json.Serialization;

namespace StationFleet.Domain.Watch;

/// <summary>A day's sun and load.</summary>
/// <param name="Date">The local date.</param>
/// <param name="SunShare">What the panel could give, as a share of what it would as rated under a clear sky; null: not known.</param>
/// <param name="DayWatts">Mean load while the sun was up [W]; null: not known.</param>
/// <param name="NightWatts">Mean load of the night that ended on it [W]; null: not known.</param>
/// <param name="BaseWatts">What the station drew in the quiet quarter hours of that night [W]; null: not known.</param>
/// <param name="HoldsWattHours">What the battery would hold, by its fall in that night [Wh]; null: not known.</param>
/// <param name="DayNoise">How far the mean load of the day may be off, since a reading now and then samples loads that come in bursts [W].</param>
/// <param name="FullAtDusk">The charge at dusk of a day on which the battery had enough; null: it had not.</param>
public sealed record PowerDay(
    DateOnly Date, double? SunShare, double? DayWatts, double? NightWatts, double? BaseWatts, double? HoldsWattHours, double? DayNoise, double? FullAtDusk);

/// <summary>A day on which the panel was asked for all it had, for long enough.</summary>
/// <param name="Date">The local date.</param>
/// <param name="Share">What it gave in its better quarter hours, as a share of what it would as rated under a clear sky.</param>
public readonly record struct PanelDay(DateOnly Date, double Share);

/// <summary>A sum that knows its mean.</summary>
/// <param name="Sum">The sum.</param>
/// <param name="Count">How many it is of.</param>
public readonly record struct RunningMean(double Sum, int Count)
{
    /// <summary>The mean; null of nothing.</summary>
    [JsonIgnore]
    public double? Mean => Count > 0 ? Math.Round(Sum / Count, 2) : null;

    internal RunningMean With(double? value) => value is { } v ? new RunningMean(Math.Round(Sum + v, 2), Count + 1) : this;
}

/// <summary>A quarter hour of power.</summary>
/// <param name="Start">Its beginning.</param>
public sealed record PowerQuarter(DateTimeOffset Start)
{
    /// <summary>From the panel [W].</summary>
    public RunningMean Solar { get; init; }

    /// <summary>Into the loads [W].</summary>
    public RunningMean Load { get; init; }

    /// <summary>The least load [W].</summary>
    public double? LeastLoad { get; init; }

    /// <summary>The newest battery current [A].</summary>
    public double? Amperes { get; init; }

    /// <summary>The newest battery voltage [V].</summary>
    public double? Volts { get; init; }

    /// <summary>The charge [%].</summary>
    public RunningMean Percent { get; init; }

    internal double? Charge => Percent.Mean / 100;

    internal double? SolarWatts => Solar.Mean;

    internal double? LoadWatts => Load.Mean;

    internal PowerQuarter With(double? solar, double? load, double? amperes, double? volts, double? charge) => new(Start)
    {
        Solar = Solar.With(solar),
        Load = Load.With(load),
        LeastLoad = load < LeastLoad || LeastLoad is null ? load ?? LeastLoad : LeastLoad,
        Amperes = amperes ?? Amperes,
        Volts = volts ?? Volts,
        Percent = Percent.With(100 * charge),
    };
}

/// <summary>A local day of power so far.</summary>
public sealed record PowerToday
{
    private const double LeastFree = 0.03;

    /// <summary>The local date; null before the first.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>From the panel, summed over quarter hours [W].</summary>
    public double TakenWatts { get; init; }

    /// <summary>What it would give as rated under a clear sky, summed likewise [W].</summary>
    public double ClearWatts { get; init; }

    /// <summary>From the panel while the battery was far from full [W].</summary>
    public double FreeTaken { get; init; }

    /// <summary>What it would give as rated under a clear sky meanwhile [W].</summary>
    public double FreeClear { get; init; }

    /// <summary>Whether the battery was nearly full at some time: then the panel may have been held back.</summary>
    public bool WasFull { get; init; }

    /// <summary>The charge in the last quarter hour of sun, 0 to 1.</summary>
    public double? DuskCharge { get; init; }

    /// <summary>The loads while the sun was up [W].</summary>
    public RunningMean DayLoad { get; init; }

    /// <summary>Their squares [W²].</summary>
    public RunningMean DayLoadSquares { get; init; }

    /// <summary>What the panel gave in quarter hours in which it was asked for all it had, as a share; never changed, only replaced.</summary>
    public double[] Shares { get; init; } = [];

    /// <summary>See <see cref="PowerDay.NightWatts"/>.</summary>
    public double? NightWatts { get; init; }

    /// <summary>See <see cref="PowerDay.BaseWatts"/>.</summary>
    public double? BaseWatts { get; init; }

    /// <summary>See <see cref="PowerDay.HoldsWattHours"/>.</summary>
    public double? HoldsWattHours { get; init; }

    // The standard error of a mean.
    internal double? DayNoise() => DayLoad.Mean is { } mean && DayLoadSquares.Mean is { } squares
        ? Math.Round(Math.Sqrt(Math.Max(0, squares - (mean * mean)) / DayLoad.Count), 2)
        : null;

    // On a day that was full, only the hours before it was tell what the panel could have given; too few of them tell nothing.
    internal double? SunShare() => (WasFull, Taken: TakenWatts, Clear: ClearWatts) switch
    {
        (_, _, <= 0) => null,
        (false, _, _) => Math.Round(TakenWatts / ClearWatts, 3),
        _ => FreeClear > LeastFree * ClearWatts ? Math.Round(Math.Max(TakenWatts / ClearWatts, FreeTaken / FreeClear), 3) : null,
    };
}

/// <summary>A night of power.</summary>
public sealed record PowerNight
{
    /// <summary>Whether the sun is up again.</summary>
    public bool IsOver { get; init; }

    /// <summary>When it began, by the first quarter hour that was seen.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>The end of the last quarter hour that was seen.</summary>
    public DateTimeOffset? To { get; init; }

    /// <summary>The charge when it had become quiet, two hours after dark, 0 to 1: until then people use the tools, which a reading now and then misses.</summary>
    public double? FromCharge { get; init; }

    /// <summary>The loads since then [W].</summary>
    public RunningMean LateLoad { get; init; }

    /// <summary>Since when it has been quiet.</summary>
    public DateTimeOffset? LateFrom { get; init; }

    /// <summary>The charge in its last quarter hour, 0 to 1.</summary>
    public double? ToCharge { get; init; }

    /// <summary>The loads [W].</summary>
    public RunningMean Load { get; init; }

    /// <summary>The least load of each quarter hour [W]; never changed, only replaced.</summary>
    public double[] Least { get; init; } = [];

    private const double HoursUntilQuiet = 2;

    internal double Hours => From is { } from && To is { } to ? (to - from).TotalHours : 0;

    internal double LateHours => LateFrom is { } from && To is { } to ? (to - from).TotalHours : 0;

    internal PowerNight With(PowerQuarter quarter)
    {
        DateTimeOffset from = From ?? quarter.Start;
        bool isLate = (quarter.Start - from).TotalHours >= HoursUntilQuiet;

        // The charge is that of the quarter's end, where its late part begins.
        DateTimeOffset end = quarter.Start.AddMinutes(15);
        bool begins = isLate && LateFrom is null && quarter.Charge is not null;
        return new PowerNight
        {
            From = from,
            To = end,
            LateFrom = begins ? end : LateFrom,
            FromCharge = begins ? quarter.Charge : FromCharge,
            ToCharge = quarter.Charge ?? ToCharge,
            Load = Load.With(quarter.LoadWatts),
            LateLoad = LateFrom is null ? LateLoad : LateLoad.With(quarter.LoadWatts),
            Least = quarter.LeastLoad is { } least ? [.. Least, least] : Least,
        };
    }
}
