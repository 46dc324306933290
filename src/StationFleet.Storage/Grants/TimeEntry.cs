using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Grants;

/// <summary>A person's time; never edited, only reversed.</summary>
public sealed class TimeEntry
{
    public int Id { get; init; }

    /// <summary>Whose time it is, as people write it: a volunteer need not have an account.</summary>
    public required string Person { get; init; }

    public DateOnly Day { get; init; }

    /// <summary>When it began, in minutes since the local midnight.</summary>
    public int StartMinute { get; init; }

    /// <summary>How long; negative for a reversal.</summary>
    public int Minutes { get; init; }

    public required string Activity { get; init; }

    public StationId? StationId { get; init; }

    public AwardId? AwardId { get; init; }

    public TimeKind Kind { get; init; }

    /// <summary>What an hour was worth when it was entered.</summary>
    public Money RatePerHour { get; init; }

    public DateTimeOffset Entered { get; init; }

    public required string EnteredBy { get; init; }

    /// <summary>The entry that this one takes back; null for an entry of its own.</summary>
    public int? ReversesId { get; init; }

    /// <summary>The form's own key: the same form sent twice is one entry.</summary>
    public required string IdempotencyKey { get; init; }

    public Money Worth => TimeBook.Worth(Minutes, RatePerHour);
}

internal sealed class TimeEntryConfiguration : IEntityTypeConfiguration<TimeEntry>
{
    public void Configure(EntityTypeBuilder<TimeEntry> builder)
    {
        builder.ToTable("time_entries");
        builder.Ignore(entry => entry.Worth);
        builder.Property(entry => entry.Person).HasMaxLength(80);
        builder.Property(entry => entry.Activity).HasMaxLength(200);
        builder.HasOne<Station>().WithMany().HasForeignKey(entry => entry.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Award>().WithMany().HasForeignKey(entry => entry.AwardId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<TimeEntry>().WithMany().HasForeignKey(entry => entry.ReversesId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(entry => entry.IdempotencyKey).IsUnique();

        // An entry is reversed once.
        builder.HasIndex(entry => entry.ReversesId).IsUnique();

        // Serves a person's day, and a season's costs.
        builder.HasIndex(entry => new { entry.Day, entry.Person });
    }
}

/// <summary>Money spent, or a thing given; never edited, only reversed.</summary>
public sealed class CostEntry
{
    public int Id { get; init; }

    public DateOnly Day { get; init; }

    public required string What { get; init; }

    /// <summary>How much; negative for a reversal.</summary>
    public Money Amount { get; init; }

    public StationId? StationId { get; init; }

    public AwardId? AwardId { get; init; }

    /// <summary>Paid from the award, the recipient's match, or given.</summary>
    public TimeKind Kind { get; init; }

    public DateTimeOffset Entered { get; init; }

    public required string EnteredBy { get; init; }

    /// <summary>The entry that this one takes back; null for an entry of its own.</summary>
    public int? ReversesId { get; init; }

    /// <summary>The form's own key: the same form sent twice is one entry.</summary>
    public required string IdempotencyKey { get; init; }
}

internal sealed class CostEntryConfiguration : IEntityTypeConfiguration<CostEntry>
{
    public void Configure(EntityTypeBuilder<CostEntry> builder)
    {
        builder.ToTable("cost_entries");
        builder.Property(entry => entry.What).HasMaxLength(200);
        builder.HasOne<Station>().WithMany().HasForeignKey(entry => entry.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Award>().WithMany().HasForeignKey(entry => entry.AwardId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<CostEntry>().WithMany().HasForeignKey(entry => entry.ReversesId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(entry => entry.IdempotencyKey).IsUnique();

        // An entry is reversed once.
        builder.HasIndex(entry => entry.ReversesId).IsUnique();

        // Serves a season's costs.
        builder.HasIndex(entry => entry.Day);
    }
}
