namespace StationFleet.Domain.Seasons;

/// <summary>Availability from mean times, for comparing with figures that others publish.</summary>
public static class AvailabilityFormulas
{
    /// <summary>The share of time that an item is up, from its mean times.</summary>
    /// <param name="meanUp">Mean time between failures, or between maintenance actions; positive.</param>
    /// <param name="meanDown">
    /// Mean active repair gives the inherent availability; mean down time, with the waiting in it, the operational one.
    /// </param>
    /// <returns>0 to 1.</returns>
    /// <remarks>A = U / (U + D). Source: NASA Systems Engineering Handbook, inherent and operational availability.</remarks>
    public static double FromMeans(TimeSpan meanUp, TimeSpan meanDown)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(meanUp, TimeSpan.Zero);
        ArgumentOutOfRangeException.ThrowIfLessThan(meanDown, TimeSpan.Zero);
        return meanUp / (meanUp + meanDown);
    }

    /// <summary>Mean time between maintenance actions of either kind.</summary>
    /// <param name="corrective">Mean time between corrective actions; positive.</param>
    /// <param name="preventive">Mean time between preventive actions; positive.</param>
    /// <remarks>1 / (1/c + 1/p). Source: US Coast Guard COMDTINST 4105.7, enclosure 4.</remarks>
    public static TimeSpan MeanTimeBetweenMaintenance(TimeSpan corrective, TimeSpan preventive)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(corrective, TimeSpan.Zero);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(preventive, TimeSpan.Zero);
        return TimeSpan.FromHours(1 / ((1 / corrective.TotalHours) + (1 / preventive.TotalHours)));
    }

    /// <summary>The availability of a whole that needs every one of its parts, failing independently.</summary>
    /// <param name="parts">Each part's availability, 0 to 1.</param>
    /// <remarks>The product. Source: NASA reliability and maintainability technique AT-3.</remarks>
    public static double InSeries(IEnumerable<double> parts) => parts.Aggregate(1.0, (whole, part) => whole * part);
}
