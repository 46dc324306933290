namespace StationFleet.Benchmarks;

internal static class Median
{
    public static double Of(IReadOnlyCollection<double> values) => values.Order().ElementAt(values.Count / 2);
}
