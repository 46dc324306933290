using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Duty;

/// <summary>Takes a person's hours, or an absence, off the roster.</summary>
internal sealed class RemoveFromRoster(IDbContextFactory<FleetDbContext> databases)
{
    /// <returns>False when they are gone already, or not the viewer's to change.</returns>
    public async Task<bool> HoursAsync(Viewer viewer, int id, CancellationToken cancel) =>
        viewer.MayChangeFleet() && await databases.WriteAsync(db => db.DutyHours.Where(row => row.Id == id).ExecuteDeleteAsync(cancel), cancel) > 0;

    /// <inheritdoc cref="HoursAsync"/>
    public Task<bool> AbsenceAsync(Viewer viewer, int id, CancellationToken cancel) => databases.WriteAsync(
        async db =>
        {
            if (await db.Absences.SingleOrDefaultAsync(row => row.Id == id, cancel) is not { } absence || !SaveAbsence.MaySave(viewer, absence.PersonId))
            {
                return false;
            }

            db.Remove(absence);
            return true;
        },
        cancel);
}
