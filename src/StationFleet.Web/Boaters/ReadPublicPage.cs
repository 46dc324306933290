using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Boaters;

/// <summary>
/// What everybody may know of an access and of what stands there. It takes no viewer, since it is for those without an account:
/// nothing may come into its view that is not for them.
/// </summary>
internal sealed class ReadPublicPage(
    IDbContextFactory<FleetDbContext> databases, ReadStationStates states, SeasonForPublic seasons,
    FleetClock clock, IOptions<FleetOptions> options)
{
    private static readonly Viewer Everybody = new("", "the public", new HashSet<string>(), null);

    /// <summary>A tool that hangs there now.</summary>
    internal sealed record HangingTool(string Slug, string Name, ToolKind Kind);

    /// <param name="Service">Whether it is in service.</param>
    /// <param name="Season">Its figures of the season, in words; null when there are none.</param>
    internal sealed record StandingStation(StationId Id, string Code, string Service, IReadOnlyList<HangingTool> Tools, string? Season);

    /// <param name="Found">Released organisms that were found in the tank's water this season, in words; null when there are none to tell.</param>
    internal sealed record View(
        AccessId Id, string Slug, string Name, string Water, string Organization, IReadOnlyList<StandingStation> Stations, string? Found);

    public async Task<View?> HandleAsync(string slug, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        if (await db.Accesses.AsNoTracking().SingleOrDefaultAsync(row => row.Slug == slug, cancel) is not { } access)
        {
            return null;
        }

        List<StandingStation> standing = [];
        foreach (ReadStationStates.State state in (await states.HandleAsync(Everybody, cancel)).Where(state => state.Access == access.Id))
        {
            List<HangingTool> tools = await db.Tools
                .Where(tool => tool.StationId == state.Id && tool.Installed <= now && (tool.Removed == null || tool.Removed > now))
                .OrderBy(tool => tool.Name).Select(tool => new HangingTool(tool.Slug, tool.Name, tool.Kind)).ToListAsync(cancel);
            standing.Add(new StandingStation(
                state.Id, state.Code, PublicWords.Service(state.Condition), [.. tools.OrderBy(tool => tool.Kind)],
                Sentence(await seasons.OfAsync(state.Id, cancel), state.IsPortable)));
        }

        return new View(
            access.Id, access.Slug, access.Name, access.Water, options.Value.Organization, standing,
            await FoundOrganisms.SentenceAsync(db, access, seasons.Current, cancel));
    }

    private string? Sentence(SeasonForPublic.Figures figures, bool isPortable)
    {
        if (figures.UseSessions == 0)
        {
            return null;
        }

        string since = figures.Season.FirstDay.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
        UnitSystem units = options.Value.Units;
        string unit = units == UnitSystem.UsCustomary ? "gallons" : "litres";
        double volume = Units.VolumeFor(figures.LitresTakenIn, units);
        string taken = volume < 1 ? "" : $" and took in about {NumberWords.Figures(TwoDigits(volume))} {unit} of water";
        return $"Since {since} this station had {NumberWords.Figures(figures.UseSessions)} use {(figures.UseSessions == 1 ? "session" : "sessions")}{taken}{(isPortable ? ", here and where it stood before" : "")}.";
    }

    // Two digits are as much as such a volume is known to.
    private static double TwoDigits(double volume)
    {
        double step = Math.Pow(10, Math.Max(0, Math.Floor(Math.Log10(volume)) - 1));
        return Math.Round(volume / step) * step;
    }
}

/// <summary>A station's condition as boaters may know it: nothing of its inside.</summary>
internal static class PublicWords
{
    public static string Service(StationCondition condition) => condition switch
    {
        StationCondition.Working or StationCondition.DueSoon => "The station is in service.",
        StationCondition.NeedsVisit => "The station is in service, but something about it waits for a look: a tool may not work.",
        StationCondition.NotReporting => "We have not heard from the station lately. It may work: try it, and tell us if it does not.",
        StationCondition.AccessClosed => "This access is closed for now.",
        StationCondition.Winterized => "The station is laid up for the winter.",
        StationCondition.InTransit => "The station is on the road.",
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "There is no such condition."),
    };
}
