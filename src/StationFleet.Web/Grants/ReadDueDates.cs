using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Grants;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Grants;

/// <summary>
/// The awards' reports that are not handed in, by due day: for the page Awards, for Today and for mails. Who keeps no books sees
/// none.
/// </summary>
public sealed class ReadDueDates(IDbContextFactory<FleetDbContext> databases)
{
    /// <param name="viewer">Who asks.</param>
    /// <param name="until">The last due day that matters; overdue ones are always among them.</param>
    /// <param name="cancel">Stops the reading.</param>
    public async Task<IReadOnlyList<DueDate>> HandleAsync(Viewer viewer, DateOnly until, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks())
        {
            return [];
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return [.. (await DueDateReader.ReadAsync(db, cancel)).Where(due => due.HandedIn is null && due.Due <= until)];
    }
}
