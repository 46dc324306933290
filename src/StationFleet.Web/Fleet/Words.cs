using StationFleet.Domain.Fleet;

namespace StationFleet.Web.Fleet;

/// <summary>The words that pages use for what the domain knows as codes.</summary>
internal static class Words
{
    public static string Of(StationCondition condition) => condition switch
    {
        StationCondition.Working => "Working",
        StationCondition.DueSoon => "Due soon",
        StationCondition.NeedsVisit => "Needs a visit",
        StationCondition.NotReporting => "Not reporting",
        StationCondition.InTransit => "In transit",
        StationCondition.AccessClosed => "Access closed",
        StationCondition.Winterized => "Winterized",
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "An unknown condition."),
    };
}
