using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Telemetry;

/// <summary>Throws records that were set aside away for good.</summary>
internal sealed partial class DiscardSetAside(IDbContextFactory<FleetDbContext> databases, MeasurementWriter writer, ILogger<DiscardSetAside> logger)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        internal sealed record Discarded(int Count) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, SetAsideSelection selection, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        IReadOnlyDictionary<StationId, Station> stations = await db.StationsOfAsync(viewer, selection.Station, cancel);
        int count = await writer.DiscardAsync(new SetAsideChoice([.. stations.Keys], selection.Kind, selection.Id), cancel);
        LogDiscarded(viewer.Name, count, selection.Station ?? "all stations");
        return new Outcome.Discarded(count);
    }

    [LoggerMessage(2132, LogLevel.Information, "{Person} discarded {Count} records set aside of {Station}.")]
    private partial void LogDiscarded(string person, int count, string station);
}
