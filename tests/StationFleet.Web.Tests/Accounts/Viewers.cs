using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Tests.Accounts;

/// <summary>Who asks in tests.</summary>
internal static class Viewers
{
    public static Viewer Administrator { get; } = With(FleetRoles.Administrator);

    public static Viewer Biologist { get; } = With(FleetRoles.Biologist);

    public static Viewer Technician { get; } = With(FleetRoles.Technician);

    public static Viewer Supervisor { get; } = With(FleetRoles.Supervisor);

    public static Viewer BiologistOf(AgencyId agency) => With(FleetRoles.Biologist) with { Agency = agency };

    private static Viewer With(string role) => new("test", role, new HashSet<string> { role }, null);
}
