using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>What the Office's forms let people choose from.</summary>
public sealed class ReadChoices(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    public sealed record Agency(AgencyId Id, string Name);

    public sealed record Place(AccessId Id, string Slug, string Name, string Water, string ZoneId)
    {
        [JsonIgnore]
        public string Label => $"{Name}, {Water}";
    }

    /// <param name="MayChange">Whether the person may change stations and accesses at all.</param>
    /// <param name="SeesAll">Whether the person is not bound to one agency.</param>
    /// <param name="FleetZoneId">The time zone of what stands at no access.</param>
    /// <param name="Now">The fleet's present.</param>
    /// <param name="Agencies">By name.</param>
    /// <param name="Places">By water and name.</param>
    public sealed record View(
        bool MayChange, bool SeesAll, string FleetZoneId, DateTimeOffset Now, IReadOnlyList<Agency> Agencies, IReadOnlyList<Place> Places)
    {
        public TimeZoneInfo ZoneOf(string accessId) =>
            TimeZoneInfo.FindSystemTimeZoneById(Places.FirstOrDefault(place => FormIds.Of(place.Id) == accessId)?.ZoneId ?? FleetZoneId);
    }

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return new View(
            viewer.MayChangeFleet(),
            viewer.Agency is null,
            options.Value.TimeZone,
            clock.GetUtcNow(),
            await db.Agencies.OrderBy(agency => agency.Name).Select(agency => new Agency(agency.Id, agency.Name)).ToListAsync(cancel),
            await db.Accesses.OrderBy(access => access.Water).ThenBy(access => access.Name)
                .Select(access => new Place(access.Id, access.Slug, access.Name, access.Water, access.TimeZone)).ToListAsync(cancel));
    }
}
