using StationFleet.Domain.Quantities;

namespace StationFleet.Domain.Fleet;

/// <summary>The first sentence of Today: how many stations are in which condition, each by its own word.</summary>
public static class FleetHeadline
{
    // What comes first is what people should look at first.
    private static readonly (StationCondition Condition, string One, string Many)[] Others =
    [
        (StationCondition.NotReporting, "is not reporting", "are not reporting"),
        (StationCondition.Working, "is working", "are working"),
        (StationCondition.DueSoon, "is due soon", "are due soon"),
        (StationCondition.InTransit, "is in transit", "are in transit"),
        (StationCondition.AccessClosed, "stands at a closed access", "stand at a closed access"),
        (StationCondition.Winterized, "is winterized", "are winterized"),
    ];

    /// <summary>Puts the conditions of a fleet into words.</summary>
    /// <param name="conditions">The condition of each station.</param>
    /// <returns>Such as «Two stations need a visit. Two are working, one is due soon, one is in transit.»</returns>
    public static string Of(IReadOnlyCollection<StationCondition> conditions)
    {
        ArgumentNullException.ThrowIfNull(conditions);
        if (conditions.Count == 0)
        {
            return "There are no stations yet.";
        }

        if (conditions.Distinct().Count() == 1 && Others.FirstOrDefault(o => o.Condition == conditions.First()) is { Many: { } } same)
        {
            return conditions.Count == 1 ? $"The station {same.One}." : $"All {NumberWords.Count(conditions.Count)} stations {same.Many}.";
        }

        int visits = conditions.Count(condition => condition == StationCondition.NeedsVisit);
        string first = NumberWords.Capital($"{NumberWords.Count(visits)} station{(visits < 2 ? " needs" : "s need")} a visit.");
        List<string> rest = [];
        foreach ((StationCondition condition, string one, string many) in Others)
        {
            int count = conditions.Count(c => c == condition);
            if (count > 0)
            {
                rest.Add($"{NumberWords.Count(count)} {(count == 1 ? one : many)}");
            }
        }

        return rest.Count == 0 ? first : $"{first} {NumberWords.Capital(string.Join(", ", rest))}.";
    }
}
