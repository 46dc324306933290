using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Seasons;

/// <summary>A season's report of the stations that a person sees: all of them, or a part.</summary>
public sealed class SummariseSeason(
    IDbContextFactory<FleetDbContext> databases, SeasonReportReader reader, FleetClock clock, IOptions<SeasonOptions> seasons, IOptions<FleetOptions> fleet)
{
    /// <param name="Year">The season's year; null takes the newest that has begun.</param>
    /// <param name="Station">A station's code; null or empty takes all.</param>
    /// <param name="From">With <paramref name="To"/>, the first day of any days instead of a season.</param>
    /// <param name="To">The last of them.</param>
    /// <param name="Award">An award's number: only the stations that its reports tell of; null or empty takes all.</param>
    /// <param name="Owner">An agency's name: only the stations that it owns; null or empty takes all.</param>
    /// <param name="Access">An access's name in addresses: only what happened there; null or empty takes all.</param>
    public sealed record Query(
        int? Year, string? Station, DateOnly? From = null, DateOnly? To = null, string? Award = null, string? Owner = null, string? Access = null)
    {
        /// <summary>The question as an address carries it.</summary>
        public string Address
        {
            get
            {
                IEnumerable<(string Name, string? Value)> parts =
                [
                    ("year", From is null ? Year?.ToString(CultureInfo.InvariantCulture) : null),
                    ("from", From?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
                    ("to", To?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
                    ("station", Station), ("access", Access), ("award", Award), ("owner", Owner),
                ];
                return "?" + string.Join('&', parts.Where(part => !string.IsNullOrEmpty(part.Value)).Select(part => $"{part.Name}={Uri.EscapeDataString(part.Value!)}"));
            }
        }

        internal SeasonPart Part => new(string.IsNullOrEmpty(Station) ? [] : [Station], Access, Award, Owner);
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <param name="Report">The figures, and what is said beside them.</param>
        /// <param name="Years">The years that can be asked for, newest first.</param>
        /// <param name="Choices">What else can be asked for.</param>
        public sealed record Summarised(SeasonReport Report, IReadOnlyList<int> Years, SeasonChoices Choices) : Outcome;

        /// <summary>The person sees no such station, access, award or owner, or none that is all of it.</summary>
        public sealed record NoSuchStation : Outcome;

        /// <summary>No station existed in that year, or its season has not begun.</summary>
        public sealed record NoSuchYear : Outcome;
    }

    /// <summary>What a query asks for, before anything is counted.</summary>
    /// <param name="Season">The days.</param>
    /// <param name="Scope">The stations; null when there are none such.</param>
    internal sealed record Asked(Season? Season, SeasonScope? Scope, SeasonChoices Choices, int[] Years, DateTimeOffset Now);

    public async Task<Outcome> HandleAsync(Viewer viewer, Query query, CancellationToken cancel)
    {
        Asked asked = await AskAsync(viewer, query, cancel);
        return asked switch
        {
            { Season: null } => new Outcome.NoSuchYear(),
            { Scope: null } => new Outcome.NoSuchStation(),
            { Season: { } season, Scope: { } scope } => new Outcome.Summarised(
                await reader.ReadAsync(asked.Choices, scope, season, asked.Now, fleet.Value.Zone, cancel), asked.Years, asked.Choices),
        };
    }

    internal async Task<Asked> AskAsync(Viewer viewer, Query query, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(query);
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        SeasonChoices choices = await SeasonChoices.ReadAsync(db, db.Stations.VisibleTo(viewer), cancel);
        int[] years = Years(choices.Stations.Select(station => station.Created), now);
        Season? season = query switch
        {
            { From: { } from, To: { } to } => Season.Range(from, to < from ? from : to),
            { Year: { } year } when !years.Contains(year) => null,
            _ => seasons.Value.Of(query.Year ?? years[0]),
        };
        return new Asked(season, choices.Pick(query.Part), choices, years, now);
    }

    // From the first station's year to the newest season that has begun.
    private int[] Years(IEnumerable<DateTimeOffset> created, DateTimeOffset now)
    {
        TimeZoneInfo zone = fleet.Value.Zone;
        DateOnly today = LocalCalendar.DateOf(now, zone);
        int newest = seasons.Value.NewestYear(today);
        int oldest = Math.Min(newest, created.Select(at => LocalCalendar.DateOf(at, zone).Year).DefaultIfEmpty(newest).Min());
        return [.. Enumerable.Range(oldest, newest - oldest + 1).Reverse()];
    }
}
