using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Service.Routes;

/// <summary>How long it takes to drive from place to place: as people know it, else reckoned from the straight line.</summary>
/// <param name="settings">Road factor and speed.</param>
/// <param name="known">Minutes that people know, by the keys of from and to; the way back may take another time.</param>
public sealed class DrivingTimes(RouteSettings settings, IReadOnlyDictionary<(string From, string To), double> known)
{
    private const double Hair = 1e-9;

    /// <summary>Driving from one place to another [min].</summary>
    /// <remarks>Great-circle distance × road factor ÷ speed. Straight lines over water are too short: such pairs are for people to set.</remarks>
    /// <param name="from">The place left.</param>
    /// <param name="to">The place reached.</param>
    public double Minutes(RoutePlace from, RoutePlace to)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        return from.Key == to.Key ? 0 : known.TryGetValue((from.Key, to.Key), out double minutes) ? minutes : Reckoned(from, to);
    }

    /// <summary>The same from the straight line, whatever people know.</summary>
    /// <param name="from">The place left.</param>
    /// <param name="to">The place reached.</param>
    public double Reckoned(RoutePlace from, RoutePlace to)
    {
        ArgumentNullException.ThrowIfNull(from);
        ArgumentNullException.ThrowIfNull(to);
        double metres = MovedStation.DistanceMetres(from.LatitudeDeg, from.LongitudeDeg, to.LatitudeDeg, to.LongitudeDeg);
        return metres / 1000 * settings.RoadFactor / settings.SpeedKmh * 60;
    }

    /// <summary>A problem's driving times [s]: start, stops, end; shape as <see cref="RouteProblem"/> takes it. Whole minutes, so that all times of a day add up.</summary>
    /// <param name="places">Start, stops, end.</param>
    public int[,] Table(IReadOnlyList<RoutePlace> places)
    {
        ArgumentNullException.ThrowIfNull(places);
        int[,] table = new int[places.Count, places.Count];
        for (int from = 0; from < places.Count; from++)
        {
            for (int to = 0; to < places.Count; to++)
            {
                table[from, to] = 60 * (int)Math.Ceiling(Minutes(places[from], places[to]) - Hair);
            }
        }

        return table;
    }
}
