using StationFleet.Domain.Counts;
using StationFleet.Domain.Statistics;

namespace StationFleet.Domain.Seasons;

/// <summary>The definitions of the figures that come from count shifts; all are empty when nobody counted.</summary>
public static class BoatDefinitions
{
    private const string Ratio = "W. G. Cochran, Sampling Techniques, 3rd ed. 1977, ch. 6 (ratio estimator), limits by E. C. Fieller 1954; what is counted is a definition of this program";
    private const string Shares = "W. G. Cochran 1977, ch. 6 (combined ratio estimator, jackknife); E. B. Wilson 1927 with effective trials, as compared by Franco, Little, Louis and Slud 2019";
    private const string Lower = "The lower limit of the same, at 95 %.";
    private const string Upper = "The upper limit of the same, at 95 %.";

    /// <summary>Count shifts.</summary>
    public static FigureDefinition Shifts { get; } = new(
        "count_shifts", "Count shifts", FigureUnit.Count,
        "Shifts that began on these days, in which a person at the ramp counted leaving boats and those whose people used the station; "
        + "shifts taken back are left out.",
        "Definition of this program");

    /// <summary>Coverage of the shifts.</summary>
    public static FigureDefinition Coverage { get; } = new(
        "count_coverage", "Kinds of hours counted", FigureUnit.Share,
        "Hours from 6 to 21 in required time fall into four kinds: mornings and afternoons (from noon on) of weekdays and of weekends. This "
        + "is the share of them that is of a kind with at least one shift, at the stations with shifts. Nothing is said of the others.",
        "Definition of this program");

    /// <summary>Uses for each boat.</summary>
    public static FigureDefinition UsesPerBoat { get; } = new(
        "uses_per_boat", "Tool uses per boat", FigureUnit.Ratio,
        "Tool uses that people saw, divided by the boats whose people used the station, over all shifts in which the tools were watched. "
        + "The limits take the shift as the unit. Empty when the shifts cannot bound it.",
        Ratio);

    /// <summary>Boats.</summary>
    public static FigureDefinition Boats { get; } = new(
        "boats", "Boats that used a station", FigureUnit.Count,
        "Tool uses of the days, by the counters, divided by the station's tool uses per boat; stations are added up. A station with "
        + "too few shifts adds none: no station stands for another. Uses lost at counter restarts are missing here too.",
        Ratio);

    /// <summary>Share of leaving boats.</summary>
    public static FigureDefinition Share { get; } = new(
        "share_of_leaving_boats", "Share of leaving boats", FigureUnit.Share,
        "Share of the leaving boats whose people used the station. Boats per hour of each kind of hours and station are multiplied "
        + "by its hours, for those that used the station and for all, and divided. Kinds of hours without a shift are left out and named.",
        Shares);

    private static readonly FigureDefinition UsesPerBoatLow = new("uses_per_boat_low", "Tool uses per boat, at least", FigureUnit.Ratio, Lower, Ratio);
    private static readonly FigureDefinition UsesPerBoatHigh = new("uses_per_boat_high", "Tool uses per boat, at most", FigureUnit.Ratio, Upper, Ratio);
    private static readonly FigureDefinition BoatsLow = new("boats_low", "Boats, at least", FigureUnit.Count, Lower, Ratio);
    private static readonly FigureDefinition BoatsHigh = new("boats_high", "Boats, at most", FigureUnit.Count, Upper, Ratio);
    private static readonly FigureDefinition ShareLow = new("share_of_leaving_boats_low", "Share of leaving boats, at least", FigureUnit.Share, Lower, Shares);
    private static readonly FigureDefinition ShareHigh = new("share_of_leaving_boats_high", "Share of leaving boats, at most", FigureUnit.Share, Upper, Shares);

    /// <summary>Every definition, in the order in which the figures stand.</summary>
    public static IReadOnlyList<FigureDefinition> All { get; } = [.. Listed(BoatCounts.None).Select(figure => figure.Definition)];

    /// <summary>Limits of the others, which are not figures of their own.</summary>
    public static IReadOnlyList<FigureDefinition> Limits { get; } = [UsesPerBoatLow, UsesPerBoatHigh, BoatsLow, BoatsHigh, ShareLow, ShareHigh];

    internal static IEnumerable<FigureValue> Listed(BoatCounts counts) =>
    [
        new(Shifts, counts.Shifts.Any() ? counts.Shifts.Count() : null),
        new(Coverage, counts.Coverage),
        .. WithLimits(counts.UsesPerBoat, UsesPerBoat, UsesPerBoatLow, UsesPerBoatHigh),
        .. WithLimits(counts.Boats, Boats, BoatsLow, BoatsHigh),
        .. WithLimits(counts.Share?.Share, Share, ShareLow, ShareHigh),
    ];

    private static IEnumerable<FigureValue> WithLimits(Bounded? figure, FigureDefinition value, FigureDefinition low, FigureDefinition high) =>
        [new(value, figure?.Value), new(low, figure?.Low), new(high, figure?.High)];
}
