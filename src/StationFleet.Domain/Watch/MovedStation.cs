using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Watch;

/// <summary>Where a station last said that it stands.</summary>
public sealed record PositionFacts
{
    /// <summary>WGS 84 latitude [°]; null before the first fix.</summary>
    public double? LatitudeDeg { get; init; }

    /// <summary>WGS 84 longitude [°]; null before the first fix.</summary>
    public double? LongitudeDeg { get; init; }

    /// <summary>When the newest fix was taken.</summary>
    public DateTimeOffset? At { get; init; }

    /// <summary>Since when every fix has lain too far from the access; null while it stands right.</summary>
    public DateTimeOffset? AwaySince { get; init; }

    /// <summary>How many fixes have lain too far away since.</summary>
    public int AwayFixes { get; init; }

    /// <summary>How far the newest fix lies from the access [m]; null when the access is not known.</summary>
    public double? AwayMetres { get; init; }
}

/// <summary>The rule Moved without a placement: a station says that it stands elsewhere than at its access.</summary>
public static class MovedStation
{
    /// <summary>So many fixes, over so long, must agree: a single fix may be off.</summary>
    private const int FixesNeeded = 3;
    private const double MeanEarthRadiusM = 6_371_008.8;
    private static readonly TimeSpan TimeNeeded = TimeSpan.FromMinutes(30);

    /// <summary>Whether the station stands too far from its access.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static bool IsAway(StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return facts.Position is { AwayFixes: >= FixesNeeded, AwaySince: { } since, At: { } at }
            && at - since >= TimeNeeded && Evidence(facts, context, now) is not null;
    }

    /// <summary>The numbers behind it; null when nothing is known of where it stands or should stand.</summary>
    /// <param name="facts">What is known of the station.</param>
    /// <param name="context">The station.</param>
    /// <param name="now">The instant of judging.</param>
    public static MovedEvidence? Evidence(StationFacts facts, FactsContext context, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(context);
        return facts.Position is { LatitudeDeg: { } latitude, LongitudeDeg: { } longitude, At: { } at, AwaySince: { } since, AwayMetres: { } away }
            && PlaceAt(context.Setup, now) is { } place && at >= place.From
            ? new MovedEvidence(place.Name, away, latitude, longitude, since, at)
            : null;
    }

    /// <summary>The great-circle distance of two points [m], on a sphere of the mean earth radius.</summary>
    /// <remarks>Haversine formula; R. W. Sinnott, Sky and Telescope 68(2), 159, 1984 (from memory). Within 0.6 % of the ellipsoid.</remarks>
    /// <param name="latitude1Deg">Latitude of the first point [°].</param>
    /// <param name="longitude1Deg">Longitude of the first point [°].</param>
    /// <param name="latitude2Deg">Latitude of the second point [°].</param>
    /// <param name="longitude2Deg">Longitude of the second point [°].</param>
    public static double DistanceMetres(double latitude1Deg, double longitude1Deg, double latitude2Deg, double longitude2Deg)
    {
        (double phi1, double phi2) = (double.DegreesToRadians(latitude1Deg), double.DegreesToRadians(latitude2Deg));
        double north = Math.Sin((phi2 - phi1) / 2);
        double east = Math.Sin(double.DegreesToRadians(longitude2Deg - longitude1Deg) / 2);
        double h = (north * north) + (Math.Cos(phi1) * Math.Cos(phi2) * east * east);
        return 2 * MeanEarthRadiusM * Math.Asin(Math.Sqrt(Math.Min(1, h)));
    }

    internal static PositionFacts Take(PositionFacts facts, double latitudeDeg, double longitudeDeg, DateTimeOffset at, StationSetup setup)
    {
        StandingPlace? place = PlaceAt(setup, at);
        double? away = place is null ? null : DistanceMetres(latitudeDeg, longitudeDeg, place.LatitudeDeg, place.LongitudeDeg);
        bool isAway = away > setup.Rules.MovedMetres;
        bool goesOn = isAway && facts.AwaySince >= place?.From;
        return new PositionFacts
        {
            LatitudeDeg = latitudeDeg,
            LongitudeDeg = longitudeDeg,
            At = at,
            AwaySince = goesOn ? facts.AwaySince : isAway ? at : null,
            AwayFixes = goesOn ? facts.AwayFixes + 1 : isAway ? 1 : 0,
            AwayMetres = away,
        };
    }

    private static StandingPlace? PlaceAt(StationSetup setup, DateTimeOffset at) => setup.Places.LastOrDefault(place => place.Contains(at));
}
