namespace StationFleet.Domain.Service.Routes;

/// <summary>What a day on the road is planned from.</summary>
/// <param name="Start">Where the day starts.</param>
/// <param name="End">Where it ends.</param>
/// <param name="StartsAt">When it starts.</param>
/// <param name="Stops">What there is to do.</param>
/// <param name="Driving">How long driving takes.</param>
/// <param name="DayHours">How long the day may last [h].</param>
public sealed record RouteInput(
    RoutePlace Start, RoutePlace End, DateTimeOffset StartsAt, IReadOnlyList<RouteStop> Stops, DrivingTimes Driving, double DayHours);

/// <summary>A stop with its times.</summary>
/// <param name="Stop">The stop.</param>
/// <param name="DrivingMinutes">Driving from the place before [min].</param>
/// <param name="Arrives">When it is reached.</param>
/// <param name="Begins">When work begins: later than the arrival when it must not begin before.</param>
/// <param name="Leaves">When it is left.</param>
public sealed record RoutedStop(RouteStop Stop, double DrivingMinutes, DateTimeOffset Arrives, DateTimeOffset Begins, DateTimeOffset Leaves);

/// <summary>A stop that is not on today's way.</summary>
/// <param name="Stop">The stop.</param>
/// <param name="Why">Why not.</param>
public sealed record LeftStop(RouteStop Stop, LeftReason Why);

/// <summary>Why a stop is not on today's way.</summary>
public enum LeftReason
{
    /// <summary>The day is too short for it beside the others.</summary>
    DayTooShort,

    /// <summary>The day is too short for it alone.</summary>
    TooFar,

    /// <summary>Even on its own it cannot be reached in its time.</summary>
    OutOfTime,
}

/// <summary>A day on the road: where to go, in which order, when.</summary>
/// <param name="Input">What it was planned from.</param>
/// <param name="Stops">The stops in order.</param>
/// <param name="Left">What is left for another day, the most urgent first.</param>
/// <param name="DrivingMinutes">All driving [min].</param>
/// <param name="Back">When the end place is reached.</param>
/// <param name="IsExact">Whether no better order exists; else it is a good one.</param>
public sealed record RoutePlan(
    RouteInput Input, IReadOnlyList<RoutedStop> Stops, IReadOnlyList<LeftStop> Left, double DrivingMinutes, DateTimeOffset Back, bool IsExact)
{
    /// <summary>Up to so many stops all orders are gone through.</summary>
    public const int MostExactStops = 12;

    /// <summary>What to put into the truck, each thing with the stations that it is for.</summary>
    public IReadOnlyList<(string Thing, IReadOnlyList<string> Stations)> Bring =>
    [
        .. Stops.SelectMany(routed => routed.Stop.Needs).SelectMany(need => need.Bring.Select(thing => (thing, need.Station)))
            .GroupBy(pair => pair.thing, pair => pair.Station)
            .Select(group => (group.Key, (IReadOnlyList<string>)[.. group.Distinct()])),
    ];

    /// <summary>Plans a day; see <see cref="RouteProblem"/> for what is wanted first.</summary>
    /// <param name="input">What it is planned from.</param>
    public static RoutePlan Of(RouteInput input)
    {
        ArgumentNullException.ThrowIfNull(input);
        RouteProblem problem = new(
            input.Driving.Table([input.Start, .. input.Stops.Select(stop => stop.Place), input.End]),
            [.. input.Stops.Select(stop => stop.InDay(input.StartsAt))],
            (int)Math.Round(3600 * input.DayHours));
        bool isExact = problem.Count <= MostExactStops;
        RouteDay day = isExact ? ExactRoute.Solve(problem) : LargeRoute.Solve(problem);
        return new RoutePlan(
            input,
            Timed(input, problem, day),
            [
                .. Enumerable.Range(0, problem.Count).Except(day.Order)
                    .OrderBy(stop => problem.Stop(stop).Priority).ThenBy(stop => stop)
                    .Select(stop => new LeftStop(input.Stops[stop], WhyLeft(problem, stop))),
            ],
            day.Driving / 60.0,
            input.StartsAt.AddSeconds(day.Back),
            isExact);
    }

    private static List<RoutedStop> Timed(RouteInput input, RouteProblem problem, RouteDay day)
    {
        List<RoutedStop> stops = [];
        (int at, int time) = (-1, 0);
        foreach (int stop in day.Order)
        {
            int leg = problem.Driving(at, stop);
            int begin = problem.BeginAt(stop, time + leg)!.Value;
            int leave = begin + problem.Stop(stop).Service;
            stops.Add(new RoutedStop(
                input.Stops[stop], leg / 60.0, input.StartsAt.AddSeconds(time + leg), input.StartsAt.AddSeconds(begin), input.StartsAt.AddSeconds(leave)));
            (at, time) = (stop, leave);
        }

        return stops;
    }

    private static LeftReason WhyLeft(RouteProblem problem, int stop)
    {
        if (problem.Run([stop]) is not null)
        {
            return LeftReason.DayTooShort;
        }

        return problem.BeginAt(stop, problem.Driving(-1, stop)) is { } begin && begin == problem.Driving(-1, stop) ? LeftReason.TooFar : LeftReason.OutOfTime;
    }
}
