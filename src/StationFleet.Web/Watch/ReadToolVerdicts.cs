using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;

namespace StationFleet.Web.Watch;

/// <summary>How odd each tool's present silence is, from what the watch knew when it last looked.</summary>
public sealed class ReadToolVerdicts(ReadWatchState watch)
{
    /// <returns>A verdict for each tool's slug; null where its total was never read.</returns>
    internal async Task<IReadOnlyDictionary<string, IdleVerdict?>> HandleAsync(StationId station, DateTimeOffset now, CancellationToken cancel) =>
        await watch.HandleAsync(station, now, cancel) is { } known
            ? known.Setup.Tools.ToDictionary(tool => tool.Slug, tool => IdleTool.Judge(tool, known.State.Facts, known.Context, now))
            : new Dictionary<string, IdleVerdict?>();
}
