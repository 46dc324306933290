using System.Text;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;

namespace StationFleet.Web.Telemetry;

/// <summary>Tells what would become of a report that somebody pasted into the page; the very dry run of the intake.</summary>
internal sealed class TryPastedReport(IDbContextFactory<FleetDbContext> databases, AcceptReport accept)
{
    /// <returns>What would become of it; null when the person sees no such station.</returns>
    public async Task<AcceptReport.Outcome?> HandleAsync(Viewer viewer, string code, string text, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Station? station = await db.Stations.AsNoTracking().VisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == code, cancel);
        return station is null
            ? null
            : await accept.TryAsync(
                station.Id, new StationContext(station.Code, station.Created, station.HasNoClock), Encoding.UTF8.GetBytes(text), cancel);
    }
}
