using StationFleet.Domain.Service.Routes;

namespace StationFleet.Domain.Tests.Service.Routes;

public sealed class ShortestRouteTests
{
    private const string Tsplib =
        "TSPLIB: G. Reinelt, ORSA J. Computing 3(4), 376, 1991; distances as in comopt.ifi.uni-heidelberg.de/software/TSPLIB95/TSPFAQ.html; optimal lengths of its list from memory";

    public static TheoryData<string> Instances => ["burma14", "ulysses16", "gr17", "br17"];

    [Fact]
    public void The_exact_route_is_the_one_that_trying_every_order_finds()
    {
        Random dice = new(20261125);
        for (int i = 0; i < 500; i++)
        {
            RouteProblem problem = RouteCases.Random(dice, most: 7);
            RouteDay expected = RouteCases.BruteForce(problem);

            RouteDay found = ExactRoute.Solve(problem);

            problem.Compare(found, expected).Should().Be(0, $"case {i} of {problem.Count} stops");
            problem.Run(found.Order).Should().BeEquivalentTo(found, "the day is told as it will be");
        }
    }

    [Theory]
    [MemberData(nameof(Instances))]
    [Source(Tsplib)]
    public void The_exact_route_has_the_published_length(string name)
    {
        (RouteProblem problem, int shortest) = Published(name);

        ExactRoute.Solve(problem).Driving.Should().Be(shortest);
    }

    [Theory]
    [MemberData(nameof(Instances))]
    [InlineData("berlin52")]
    [Source(Tsplib)]
    public void The_route_of_many_stops_comes_within_two_percent_of_the_published_length(string name)
    {
        (RouteProblem problem, int shortest) = Published(name);

        RouteDay found = LargeRoute.Solve(problem);

        found.Order.Should().OnlyHaveUniqueItems().And.HaveCount(problem.Count);
        ((double)found.Driving / shortest).Should().BeInRange(1, 1.02);
    }

    [Fact]
    public void The_route_of_many_stops_keeps_windows_and_comes_close_to_the_exact_one()
    {
        Random dice = new(20261126);
        int same = 0;
        for (int i = 0; i < 100; i++)
        {
            RouteProblem problem = RouteCases.Random(dice, most: 9);
            RouteDay exact = ExactRoute.Solve(problem);

            RouteDay found = LargeRoute.Solve(problem);

            problem.Run(found.Order).Should().BeEquivalentTo(found, $"case {i} must be a day that works");
            problem.Compare(found, exact).Should().BeGreaterThanOrEqualTo(0);
            same += problem.Compare(found, exact) == 0 ? 1 : 0;
        }

        same.Should().BeGreaterThan(75, "these days are wilder than any road");
    }

    [Fact]
    public void The_same_problem_gives_the_same_day() =>
        LargeRoute.Solve(PublishedTours.Ulysses16).Order.Should().Equal(LargeRoute.Solve(PublishedTours.Ulysses16).Order);

    [Fact]
    public void One_urgent_stop_is_worth_more_than_two_that_can_wait()
    {
        // 0 is far and urgent, 1 and 2 are near; the day holds either the one or the two.
        int[,] driving =
        {
            { 0, 3000, 300, 300, 0 },
            { 3000, 0, 3000, 3000, 3000 },
            { 300, 3000, 0, 60, 300 },
            { 300, 3000, 60, 0, 300 },
            { 0, 0, 0, 0, 0 },
        };
        RouteProblem problem = new(
            driving, [new(600, Priority: RoutePriority.Urgent), new(600, Priority: RoutePriority.CanWait), new(600, Priority: RoutePriority.CanWait)], 6700);

        ExactRoute.Solve(problem).Order.Should().Equal(0);
        LargeRoute.Solve(problem).Order.Should().Equal(0);
    }

    [Fact]
    public void A_matrix_of_the_wrong_shape_is_refused() =>
        FluentActions.Invoking(() => new RouteProblem(new int[2, 2], [new RouteProblemStop(60)])).Should().Throw<ArgumentException>();

    private static (RouteProblem Problem, int Shortest) Published(string name) => name switch
    {
        "burma14" => (PublishedTours.Burma14, PublishedTours.Burma14Shortest),
        "ulysses16" => (PublishedTours.Ulysses16, PublishedTours.Ulysses16Shortest),
        "gr17" => (PublishedTours.Gr17, PublishedTours.Gr17Shortest),
        "br17" => (PublishedTours.Br17, PublishedTours.Br17Shortest),
        _ => (PublishedTours.Berlin52, PublishedTours.Berlin52Shortest),
    };
}
