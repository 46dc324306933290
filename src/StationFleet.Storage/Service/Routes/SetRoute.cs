using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;

namespace StationFleet.Storage.Service.Routes;

/// <summary>A person's day on the road, as somebody set it.</summary>
public sealed class SetRoute
{
    /// <summary>The local day of the fleet.</summary>
    public DateOnly Day { get; init; }

    public required string PersonId { get; init; }

    /// <summary>The stops in order, as JSON.</summary>
    public required IReadOnlyList<SetStop> Stops { get; set; }

    public DateTimeOffset StartsAt { get; set; }

    public DateTimeOffset Back { get; set; }

    public required string SetBy { get; set; }

    public DateTimeOffset SetAt { get; set; }
}

/// <summary>A stop of a day that was set.</summary>
/// <param name="Access">The access.</param>
/// <param name="Arrives">When it is reached.</param>
/// <param name="Leaves">When it is left.</param>
public sealed record SetStop(AccessId Access, DateTimeOffset Arrives, DateTimeOffset Leaves);

internal sealed class SetRouteConfiguration : IEntityTypeConfiguration<SetRoute>
{
    public void Configure(EntityTypeBuilder<SetRoute> builder)
    {
        builder.ToTable("set_routes");
        builder.HasKey(route => new { route.Day, route.PersonId });
        builder.HasOne<FleetUser>().WithMany().HasForeignKey(route => route.PersonId).OnDelete(DeleteBehavior.Cascade);
        builder.Property(route => route.Stops).HasConversion(
            stops => JsonSerializer.Serialize(stops, JsonSerializerOptions.Web),
            json => JsonSerializer.Deserialize<List<SetStop>>(json, JsonSerializerOptions.Web)!,
            new ValueComparer<IReadOnlyList<SetStop>>((one, other) => one!.SequenceEqual(other!), stops => stops.Count, stops => stops.ToList()));
    }
}
