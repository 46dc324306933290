using StationFleet.Domain.Sampling;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;

namespace StationFleet.Web.Sampling;

/// <summary>Who sees samples and who works with them.</summary>
internal static class SampleRights
{
    /// <summary>Take, count, hand over and correct samples: whoever works with stations.</summary>
    public static bool MaySample(this Viewer viewer) =>
        viewer.Roles.Overlaps([FleetRoles.Technician, FleetRoles.Biologist, FleetRoles.Administrator]);

    /// <summary>Take figures away: those who answer for them.</summary>
    public static bool MayExport(this Viewer viewer) =>
        viewer.Roles.Overlaps([FleetRoles.Biologist, FleetRoles.Supervisor, FleetRoles.Administrator]);

    /// <summary>The samples of the stations that a person sees.</summary>
    public static IQueryable<Sample> SamplesVisibleTo(this FleetDbContext db, Viewer viewer) =>
        db.Samples.Where(sample => db.Stations.VisibleTo(viewer).Any(station => station.Id == sample.StationId));

    /// <summary>What is looked for in a station's samples: the lists of its owner and its operator.</summary>
    public static IQueryable<Taxon> TaxaOf(this FleetDbContext db, Sample sample, CountedAs countedAs) => db.Taxa
        .Where(taxon => !taxon.IsRetired && taxon.CountedAs == countedAs)
        .Where(taxon => db.Stations.Any(station =>
            station.Id == sample.StationId && (station.OwnerId == taxon.AgencyId || station.OperatorId == taxon.AgencyId)))
        .OrderBy(taxon => taxon.Name);
}
