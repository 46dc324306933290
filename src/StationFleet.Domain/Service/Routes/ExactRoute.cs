using System.Numerics;

namespace StationFleet.Domain.Service.Routes;

/// <summary>The best way through a day of few stops, by going through all of them.</summary>
/// <remarks>
/// Dynamic programming over (stops done, last stop): M. Held and R. M. Karp, J. SIAM 10(1), 196–210, 1962 (from memory). Where one
/// may have to wait for a window, less driving can mean a later hour, so each state keeps every label (driving, time) that no
/// other beats in both. Windows and the day's end only ever grow harder with time, so a beaten label cannot lead to a better day.
/// </remarks>
public static class ExactRoute
{
    /// <summary>More stops take too much memory.</summary>
    public const int MostStops = 16;

    private const int None = -1;

    // Labels of one state are a chain by Next; Before is the label of the stop before.
    private readonly record struct Label(int Stop, int Driving, int Time, int Before, int Next);

    /// <summary>Finds the best day.</summary>
    /// <param name="problem">The problem; up to <see cref="MostStops"/> stops.</param>
    /// <exception cref="ArgumentException">There are too many stops.</exception>
    public static RouteDay Solve(RouteProblem problem)
    {
        ArgumentNullException.ThrowIfNull(problem);
        int n = problem.Count;
        if (n > MostStops)
        {
            throw new ArgumentException("There are too many stops to go through all orders.", nameof(problem));
        }

        if (n == 0)
        {
            return new RouteDay([], 0, 0);
        }

        List<Label> labels = [];
        int[] first = new int[(1 << n) * n];
        Array.Fill(first, None);
        for (int stop = 0; stop < n; stop++)
        {
            Grow(problem, labels, first, None, 0, stop);
        }

        long[] worth = Worths(problem);
        (int bestLabel, int bestDone, int bestDriving, int bestBack) = (None, 0, 0, 0);
        for (int state = n; state < first.Length; state++)
        {
            (int done, int last) = (state / n, state % n);
            int home = problem.Driving(last, n);
            for (int at = first[state]; at != None; at = labels[at].Next)
            {
                (int driving, int back) = (labels[at].Driving + home, labels[at].Time + home);
                if (back <= problem.DayLength
                    && (worth[bestDone] - worth[done], driving, back).CompareTo((0, bestDriving, bestBack)) < 0)
                {
                    (bestLabel, bestDone, bestDriving, bestBack) = (at, done, driving, back);
                }

                for (int stop = 0; stop < n; stop++)
                {
                    if ((done & (1 << stop)) == 0)
                    {
                        Grow(problem, labels, first, at, done, stop);
                    }
                }
            }
        }

        List<int> order = [];
        for (int at = bestLabel; at != None; at = labels[at].Before)
        {
            order.Insert(0, labels[at].Stop);
        }

        return new RouteDay(order, bestDriving, bestBack);
    }

    private static long[] Worths(RouteProblem problem)
    {
        long[] worth = new long[1 << problem.Count];
        for (int done = 1; done < worth.Length; done++)
        {
            worth[done] = worth[done & (done - 1)] + problem.Worth(BitOperations.TrailingZeroCount(done));
        }

        return worth;
    }

    private static void Grow(RouteProblem problem, List<Label> labels, int[] first, int at, int done, int stop)
    {
        Label from = at == None ? new Label(-1, 0, 0, None, None) : labels[at];
        int leg = problem.Driving(from.Stop, stop);
        if (problem.BeginAt(stop, from.Time + leg) is not { } begin)
        {
            return;
        }

        (int driving, int time) = (from.Driving + leg, begin + problem.Stop(stop).Service);
        int state = ((done | (1 << stop)) * problem.Count) + stop;
        if (time > problem.DayLength)
        {
            return;
        }

        int before = None;
        for (int other = first[state]; other != None; other = labels[other].Next)
        {
            Label known = labels[other];
            if (known.Driving <= driving && known.Time <= time)
            {
                return;
            }

            if (known.Driving >= driving && known.Time >= time)
            {
                Unchain(labels, first, state, before, known.Next);
            }
            else
            {
                before = other;
            }
        }

        labels.Add(new Label(stop, driving, time, at, first[state]));
        first[state] = labels.Count - 1;
    }

    private static void Unchain(List<Label> labels, int[] first, int state, int before, int next)
    {
        if (before == None)
        {
            first[state] = next;
        }
        else
        {
            labels[before] = labels[before] with { Next = next };
        }
    }
}
