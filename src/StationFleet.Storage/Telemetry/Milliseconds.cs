using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Telemetry;

/// <summary>How the measurement tables write instants and placements.</summary>
internal static class Milliseconds
{
    internal const long PerHour = 3_600_000;

    internal static DateTimeOffset Instant(long milliseconds) => DateTimeOffset.FromUnixTimeMilliseconds(milliseconds);

    internal static int Number(PlacementId? placement) => placement?.Value ?? 0;

    internal static PlacementId? Placement(long number) => number == 0 ? null : new PlacementId((int)number);
}
