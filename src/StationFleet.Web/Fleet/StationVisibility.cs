using StationFleet.Storage.Fleet;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Fleet;

/// <summary>Which stations a person sees: all, or those that the person's agency owns or runs.</summary>
internal static class StationVisibility
{
    public static IQueryable<Station> VisibleTo(this IQueryable<Station> stations, Viewer viewer) =>
        viewer.Agency is { } agency
            ? stations.Where(station => station.OwnerId == agency || station.OperatorId == agency)
            : stations;
}
