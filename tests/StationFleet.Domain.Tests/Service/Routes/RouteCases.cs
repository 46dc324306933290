using StationFleet.Domain.Service.Routes;

namespace StationFleet.Domain.Tests.Service.Routes;

/// <summary>Random days, and the best one found by trying every order of every choice of stops.</summary>
internal static class RouteCases
{
    public static RouteProblem Random(Random dice, int most)
    {
        int n = dice.Next(0, most + 1);
        int[,] driving = new int[n + 2, n + 2];
        bool isSymmetric = dice.Next(3) == 0;
        for (int from = 0; from < n + 2; from++)
        {
            for (int to = 0; to < n + 2; to++)
            {
                driving[from, to] = isSymmetric && to < from ? driving[to, from] : dice.Next(0, 40) * 60;
            }
        }

        bool hasWindows = dice.Next(3) > 0;
        RouteProblemStop[] stops = [.. Enumerable.Range(0, n).Select(_ =>
        {
            int from = hasWindows && dice.Next(3) == 0 ? dice.Next(0, 180) * 60 : 0;
            int to = hasWindows && dice.Next(3) == 0 ? from + (dice.Next(0, 120) * 60) : RouteProblem.Never;
            return new RouteProblemStop(dice.Next(0, 40) * 60, from, to, (RoutePriority)dice.Next(3));
        })];
        return new RouteProblem(driving, stops, dice.Next(3) == 0 ? RouteProblem.Never : dice.Next(30, 300) * 60);
    }

    public static RouteDay BruteForce(RouteProblem problem)
    {
        RouteDay best = problem.Run([])!;
        Extend([]);
        return best;

        void Extend(List<int> order)
        {
            for (int stop = 0; stop < problem.Count; stop++)
            {
                if (order.Contains(stop))
                {
                    continue;
                }

                order.Add(stop);
                if (problem.Run(order) is { } day && problem.Compare(day, best) < 0)
                {
                    best = day with { Order = [.. order] };
                }

                Extend(order);
                order.RemoveAt(order.Count - 1);
            }
        }
    }
}
