namespace StationFleet.Domain.Time;

/// <summary>Small questions about instants.</summary>
internal static class Instants
{
    /// <summary>The later of two instants; the first when there is no second.</summary>
    internal static DateTimeOffset Later(DateTimeOffset a, DateTimeOffset? b) => b > a ? b.Value : a;
}
