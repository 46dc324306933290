using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Storage.Accounts;

namespace StationFleet.Storage.Service;

/// <summary>A person is out alone and said when they expect to be back. Whoever is late is told of once.</summary>
public sealed class Outing
{
    public int Id { get; init; }

    public required string PersonId { get; init; }

    /// <summary>The person's display name.</summary>
    public required string Who { get; init; }

    /// <summary>Where to, in the person's words; may be empty.</summary>
    public string Where { get; set; } = "";

    /// <summary>When the person pressed the button.</summary>
    public DateTimeOffset Since { get; init; }

    public DateTimeOffset ExpectedBack { get; set; }

    /// <summary>When our server learnt of the expected time.</summary>
    public DateTimeOffset Known { get; set; }

    public DateTimeOffset? Back { get; set; }

    /// <summary>When somebody was told that the person is late; null again once a later time is expected.</summary>
    public DateTimeOffset? Told { get; set; }

    /// <summary>The keys of the forms about it, divided by spaces: the same form sent twice does nothing more.</summary>
    public required string FormKeys { get; set; }
}

internal sealed class OutingConfiguration : IEntityTypeConfiguration<Outing>
{
    public void Configure(EntityTypeBuilder<Outing> builder)
    {
        builder.ToTable("outings");
        builder.Property(outing => outing.Who).HasMaxLength(120);
        builder.Property(outing => outing.Where).HasMaxLength(200);
        builder.HasOne<FleetUser>().WithMany().HasForeignKey(outing => outing.PersonId).OnDelete(DeleteBehavior.Cascade);

        // A person is out once at a time; also serves "who is out?".
        builder.HasIndex(outing => outing.PersonId).IsUnique().HasFilter("\"Back\" IS NULL").HasDatabaseName("IX_outings_one_out");
    }
}
