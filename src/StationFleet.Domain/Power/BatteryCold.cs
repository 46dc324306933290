namespace StationFleet.Domain.Power;

/// <summary>What cold does to batteries.</summary>
public static class BatteryCold
{
    /// <summary>A lead-acid battery is warned of so far above its freezing point [°C].</summary>
    public const double FreezingMarginC = 5;

    /// <summary>A lithium iron phosphate battery must not be charged below [°C].</summary>
    public const double LithiumLeastC = 0;

    /// <summary>…and is warned of below [°C]: sensors are off by a degree or two.</summary>
    public const double LithiumWarnC = 2;

    /// <summary>A current above this share of the capacity counts as charging [1/h].</summary>
    public const double ChargingRate = 0.02;

    // Specific gravity and freezing point [°F].
    private static readonly (double Gravity, double FreezesF)[] Freezing =
        [(1.000, 32), (1.100, 19), (1.150, 5), (1.200, -16), (1.250, -62), (1.280, -90)];

    // State of charge and specific gravity; «almost discharged» stands at 10 %.
    private static readonly (double Charge, double Gravity)[] Gravities =
        [(0, 1.130), (0.10, 1.160), (0.25, 1.190), (0.50, 1.220), (0.75, 1.250), (1, 1.280)];

    /// <summary>Where the acid of a lead-acid battery freezes [°C].</summary>
    /// <param name="chargeShare">Its state of charge, 0 to 1.</param>
    /// <remarks>
    /// US Army TM 5-1185, tables II and III, and Ordnance course OD1002, lesson 2. A widely copied table says −23 °C for a
    /// discharged battery; that is about 11 °C too low, on the unsafe side.
    /// </remarks>
    public static double FreezingPointC(double chargeShare) =>
        (StraightLine.Through(Freezing, StraightLine.Through(Gravities, chargeShare)) - 32) / 1.8;
}
