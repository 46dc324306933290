namespace StationFleet.Domain.Service.Routes;

/// <summary>A day's driving in bare numbers: whole seconds, the day's start being 0.</summary>
/// <remarks>
/// Wanted, in this order: of each priority, from <see cref="RoutePriority.Urgent"/> on, as many stops as the day holds; then the
/// least driving; then the earliest return. So no number of stops that can wait makes up for one that is urgent.
/// </remarks>
public sealed class RouteProblem
{
    /// <summary>Later than any day ends [s].</summary>
    public const int Never = int.MaxValue / 4;

    private readonly int[,] _driving;
    private readonly RouteProblemStop[] _stops;

    /// <summary>Makes a problem.</summary>
    /// <param name="driving">
    /// Driving times [s], shape (n + 2, n + 2), 0 or more: row is from, column is to; 0 is the start place, 1 to n are the stops,
    /// n + 1 is the end place. Need not be symmetric.
    /// </param>
    /// <param name="stops">The n stops.</param>
    /// <param name="dayLength">The day must end by then [s]; <see cref="Never"/> for no limit.</param>
    /// <exception cref="ArgumentException">The shape is wrong, or a driving time is negative or beyond <see cref="Never"/>.</exception>
    public RouteProblem(int[,] driving, IReadOnlyList<RouteProblemStop> stops, int dayLength = Never)
    {
        ArgumentNullException.ThrowIfNull(driving);
        ArgumentNullException.ThrowIfNull(stops);
        if (driving.GetLength(0) != stops.Count + 2 || driving.GetLength(1) != stops.Count + 2)
        {
            throw new ArgumentException("There must be a row and a column for the start, each stop and the end.", nameof(driving));
        }

        if (driving.Cast<int>().Any(time => time is < 0 or > Never))
        {
            throw new ArgumentException("A driving time lies outside the day.", nameof(driving));
        }

        _driving = (int[,])driving.Clone();
        _stops = [.. stops];
        DayLength = dayLength;
    }

    /// <summary>How many stops there are.</summary>
    public int Count => _stops.Length;

    /// <summary>The day must end by then [s].</summary>
    public int DayLength { get; }

    /// <summary>A stop.</summary>
    /// <param name="stop">0 to <see cref="Count"/> − 1.</param>
    public RouteProblemStop Stop(int stop) => _stops[stop];

    /// <summary>Driving from one stop to another [s].</summary>
    /// <param name="from">The stop left; −1 is the start place.</param>
    /// <param name="to">The stop reached; <see cref="Count"/> is the end place.</param>
    public int Driving(int from, int to) => _driving[from + 1, to + 1];

    /// <summary>What becomes of a day in this order; null when a window or the day's end is missed.</summary>
    /// <param name="order">Stops in the order of the day, none twice; may leave some out.</param>
    public RouteDay? Run(IReadOnlyList<int> order)
    {
        ArgumentNullException.ThrowIfNull(order);
        (int at, int time, int driven) = (-1, 0, 0);
        foreach (int stop in order)
        {
            int leg = Driving(at, stop);
            (int? begin, driven) = (BeginAt(stop, time + leg), driven + leg);
            if (begin is null)
            {
                return null;
            }

            (at, time) = (stop, begin.Value + _stops[stop].Service);
        }

        int home = order.Count == 0 ? 0 : Driving(at, Count);
        return time + home <= DayLength ? new RouteDay(order, driven + home, time + home) : null;
    }

    /// <summary>When work at a stop begins [s] for one who arrives then; null when it is too late.</summary>
    /// <param name="stop">The stop.</param>
    /// <param name="arrival">The arrival [s].</param>
    public int? BeginAt(int stop, int arrival) => arrival > _stops[stop].To ? null : Math.Max(arrival, _stops[stop].From);

    /// <summary>Stops count by their priority first: one urgent stop outweighs all the others together.</summary>
    internal long Worth(int stop) => _stops[stop].Priority switch
    {
        RoutePriority.Urgent => 1L << 40,
        RoutePriority.Usual => 1L << 20,
        _ => 1,
    };

    /// <summary>Less than 0 when the first day is better, more when the second is, 0 when neither.</summary>
    /// <param name="first">A day.</param>
    /// <param name="second">Another.</param>
    public int Compare(RouteDay first, RouteDay second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        long more = second.Order.Sum(Worth) - first.Order.Sum(Worth);
        if (more != 0)
        {
            return Math.Sign(more);
        }

        return first.Driving != second.Driving ? first.Driving.CompareTo(second.Driving) : first.Back.CompareTo(second.Back);
    }
}

/// <summary>One stop of a <see cref="RouteProblem"/>; all in seconds from the day's start.</summary>
/// <param name="Service">Time at the stop [s].</param>
/// <param name="From">Work begins not before then [s]; who comes earlier waits.</param>
/// <param name="To">Work begins by then [s].</param>
/// <param name="Priority">What it gives way to.</param>
public sealed record RouteProblemStop(int Service, int From = 0, int To = RouteProblem.Never, RoutePriority Priority = RoutePriority.Usual);

/// <summary>A way through the day.</summary>
/// <param name="Order">The stops, in order.</param>
/// <param name="Driving">All driving, to the end place too [s].</param>
/// <param name="Back">When the end place is reached [s].</param>
public sealed record RouteDay(IReadOnlyList<int> Order, int Driving, int Back);
