using System.Collections.Concurrent;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Seasons;
using StationFleet.Web.Platform;
using StationFleet.Web.Seasons;

namespace StationFleet.Web.Boaters;

/// <summary>
/// The few figures of the season that everybody may read. They are reckoned at most once an hour for a station, so that a crowd
/// before the sign costs no more than one reader.
/// </summary>
internal sealed class SeasonForPublic(SeasonReader reader, FleetClock clock, IOptions<SeasonOptions> seasons, IOptions<FleetOptions> fleet)
{
    private static readonly TimeSpan Fresh = TimeSpan.FromHours(1);

    private readonly ConcurrentDictionary<StationId, Figures> _known = [];

    /// <param name="Season">The season.</param>
    /// <param name="UseSessions">As the season's figures define them.</param>
    /// <param name="LitresTakenIn">What flowed into the tank [L].</param>
    /// <param name="At">When this was reckoned.</param>
    internal sealed record Figures(Season Season, int UseSessions, double LitresTakenIn, DateTimeOffset At);

    /// <summary>The running season, or the last one.</summary>
    public Season Current
    {
        get
        {
            SeasonOptions options = seasons.Value;
            return options.Of(options.NewestYear(LocalCalendar.DateOf(clock.GetUtcNow(), fleet.Value.Zone)));
        }
    }

    public async Task<Figures> OfAsync(StationId station, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        Season season = Current;
        if (_known.TryGetValue(station, out Figures? known) && known.Season == season && known.At <= now && now - known.At < Fresh)
        {
            return known;
        }

        SeasonFigures figures = SeasonSummary.Of(await reader.ReadAsync([station], season, now, cancel)).Fleet;
        return _known[station] = new Figures(season, figures.UseSessions, figures.LitresTakenIn, now);
    }
}
