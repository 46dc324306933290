namespace StationFleet.Domain.Service.Routes;

/// <summary>A good way through a day of many stops; the same problem always gives the same day.</summary>
/// <remarks>
/// Urgent stops are put in first, each where it adds the least driving. Then, over and over: a stretch of the day is turned round
/// (2-opt), one to three neighbouring stops are moved elsewhere (Or-opt; I. Or, 1976, from memory), a stop that was left out is put
/// in or takes another's place. When nothing helps, the day is cut into four and put together anew (double bridge), with dice of a
/// fixed seed, and the best day is kept.
/// </remarks>
public static class LargeRoute
{
    private const int LongestMoved = 3;
    private const int Shakes = 60;
    private const int Seed = 20260708;

    /// <summary>Finds a good day.</summary>
    /// <param name="problem">The problem.</param>
    public static RouteDay Solve(RouteProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        RouteDay best = Improve(problem, Fill(problem, problem.Run([])!));
        Random dice = new(Seed);
        for (int shake = 0; shake < Shakes && best.Order.Count >= 4; shake++)
        {
            if (problem.Run(Shaken(best.Order, dice)) is { } shaken)
            {
                best = Better(problem, best, Improve(problem, Fill(problem, shaken)));
            }
        }

        return best;
    }

    private static RouteDay Better(RouteProblem problem, RouteDay known, RouteDay? other) =>
        other is not null && problem.Compare(other, known) < 0 ? other : known;

    private static IEnumerable<int> LeftOut(RouteProblem problem, RouteDay day) =>
        Enumerable.Range(0, problem.Count).Except(day.Order).OrderBy(stop => problem.Stop(stop).Priority).ThenBy(stop => stop);

    // Of the urgent stops first, always the one that costs the least driving, as long as one fits.
    private static RouteDay Fill(RouteProblem problem, RouteDay day)
    {
        foreach (IGrouping<RoutePriority, int> group in LeftOut(problem, day).GroupBy(stop => problem.Stop(stop).Priority).ToList())
        {
            HashSet<int> waiting = [.. group];
            while (waiting.Order().SelectMany(stop => Insertions(problem, day, stop)).MinBy(grown => (grown.Driving, grown.Back)) is { } next)
            {
                waiting.ExceptWith(next.Order);
                day = next;
            }
        }

        return day;
    }

    private static IEnumerable<RouteDay> Insertions(RouteProblem problem, RouteDay day, int stop)
    {
        int[] order = [.. day.Order];
        return Enumerable.Range(0, order.Length + 1).Select(place => problem.Run(With(order, place, [stop]))).OfType<RouteDay>();
    }

    private static RouteDay Improve(RouteProblem problem, RouteDay day)
    {
        while (true)
        {
            RouteDay better = Neighbours(problem, day).Aggregate(day, (best, order) => Better(problem, best, problem.Run(order)));
            if (ReferenceEquals(better, day))
            {
                return day;
            }

            day = Fill(problem, better);
        }
    }

    private static IEnumerable<int[]> Neighbours(RouteProblem problem, RouteDay day)
    {
        int[] order = [.. day.Order];
        for (int from = 0; from < order.Length - 1; from++)
        {
            for (int to = from + 1; to < order.Length; to++)
            {
                int[] turned = [.. order];
                Array.Reverse(turned, from, to - from + 1);
                yield return turned;
            }
        }

        for (int length = 1; length <= LongestMoved; length++)
        {
            for (int from = 0; from + length <= order.Length; from++)
            {
                int[] rest = Without(order, from, length);
                for (int to = 0; to <= rest.Length; to++)
                {
                    yield return With(rest, to, order.AsSpan(from, length));
                }
            }
        }

        foreach (int stop in LeftOut(problem, day))
        {
            for (int place = 0; place < order.Length; place++)
            {
                int[] rest = Without(order, place, 1);
                for (int to = 0; to <= rest.Length; to++)
                {
                    yield return With(rest, to, [stop]);
                }
            }
        }
    }

    private static int[] Without(int[] order, int from, int length)
    {
        int[] rest = new int[order.Length - length];
        Array.Copy(order, rest, from);
        Array.Copy(order, from + length, rest, from, rest.Length - from);
        return rest;
    }

    private static int[] With(int[] order, int place, ReadOnlySpan<int> stops)
    {
        int[] grown = new int[order.Length + stops.Length];
        Array.Copy(order, grown, place);
        stops.CopyTo(grown.AsSpan(place));
        Array.Copy(order, place, grown, place + stops.Length, order.Length - place);
        return grown;
    }

    private static int[] Shaken(IReadOnlyList<int> order, Random dice)
    {
        int[] cuts = [.. Enumerable.Range(0, 3).Select(_ => dice.Next(1, order.Count)).Order()];
        return [.. order.Take(cuts[0]), .. order.Take(cuts[2]).Skip(cuts[1]), .. order.Take(cuts[1]).Skip(cuts[0]), .. order.Skip(cuts[2])];
    }
}
