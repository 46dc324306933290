using StationFleet.Domain.Service.Routes;

namespace StationFleet.Web.Service.Routes;

/// <summary>A plan of the area in the units of its picture: places where they are, north up, no map behind.</summary>
/// <param name="Points">The places.</param>
/// <param name="Way">The order of the day through them, as SVG's points.</param>
/// <param name="ScaleWidth">The length of the scale's bar.</param>
/// <param name="ScaleWords">How far it is.</param>
public sealed record RouteDrawing(IReadOnlyList<RouteDrawing.Point> Points, string Way, double ScaleWidth, string ScaleWords)
{
    public const double Width = 420;
    public const double Height = 320;
    private const double Edge = 40;
    private const double MetresPerDegree = 111_195;
    private static readonly double[] KnownScales = [0.5, 1, 2, 5, 10, 20, 50, 100, 200];

    public enum PointKind
    {
        Yard,
        Stop,
        Left,
        Other,
    }

    /// <param name="Number">Its place in the day; null when it has none.</param>
    /// <param name="IsLabelLeft">Its name stands on the left: on the right it would leave the picture.</param>
    public sealed record Point(double X, double Y, string Name, PointKind Kind, int? Number, bool IsLabelLeft);

    /// <param name="places">Every place, the day's stops in any order.</param>
    /// <param name="way">The day: start, stops, end.</param>
    /// <param name="inMiles">Whether the scale is in miles.</param>
    internal static RouteDrawing Of(
        IReadOnlyList<(RoutePlace Place, PointKind Kind, int? Number)> places, IReadOnlyList<RoutePlace> way, bool inMiles)
    {
        double north = places.Max(one => one.Place.LatitudeDeg);
        double south = places.Min(one => one.Place.LatitudeDeg);
        double west = places.Min(one => one.Place.LongitudeDeg);
        double east = places.Max(one => one.Place.LongitudeDeg);

        // A degree of longitude shrinks with the cosine of the latitude.
        double narrow = Math.Cos(double.DegreesToRadians((north + south) / 2));
        double perDegree = Math.Min((Width - (2 * Edge)) / Math.Max(narrow * (east - west), 0.01), (Height - (2 * Edge)) / Math.Max(north - south, 0.01));
        double unit = inMiles ? Domain.Quantities.Units.MetresPerMile : 1000;
        double perUnit = perDegree / MetresPerDegree * unit;
        double scale = KnownScales.LastOrDefault(length => length * perUnit <= Width / 4, KnownScales[0]);
        return new RouteDrawing(
            [.. places.Select(one =>
            {
                (double x, double y) = At(one.Place);
                return new Point(x, y, one.Place.Name.Split(',')[0], one.Kind, one.Number, x > Width * 0.55);
            })],
            string.Join(' ', way.Select(At).Select(at => FormattableString.Invariant($"{at.X},{at.Y}"))),
            Math.Round(scale * perUnit, 1),
            FormattableString.Invariant($"{scale} {(inMiles ? "mi" : "km")}"));

        (double X, double Y) At(RoutePlace place) => (
            Math.Round((Width / 2) + (perDegree * narrow * (place.LongitudeDeg - ((east + west) / 2))), 1),
            Math.Round((Height / 2) - (perDegree * (place.LatitudeDeg - ((north + south) / 2))), 1));
    }
}
