using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Service.Routes;

namespace StationFleet.Storage.Service.Routes;

/// <summary>A place where days on the road start and end.</summary>
public sealed class Yard
{
    public int Id { get; init; }

    public required string Name { get; set; }

    public double Latitude { get; set; }

    public double Longitude { get; set; }

    public RoutePlace Place => new(RoutePlace.KeyOfYard(Id), Name, Latitude, Longitude);
}

internal sealed class YardConfiguration : IEntityTypeConfiguration<Yard>
{
    public void Configure(EntityTypeBuilder<Yard> builder)
    {
        builder.ToTable("yards");
        builder.Property(yard => yard.Name).HasMaxLength(120);
        builder.Ignore(yard => yard.Place);
        builder.HasIndex(yard => yard.Name).IsUnique();
    }
}
