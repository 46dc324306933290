using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Counts;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Counts;

/// <summary>A count shift as it stands now; what it was before is in its history.</summary>
public sealed class CountShiftRow
{
    public CountShiftId Id { get; init; }

    public StationId StationId { get; init; }

    /// <summary>Where the station stood then.</summary>
    public AccessId AccessId { get; set; }

    public DateTimeOffset From { get; set; }

    public DateTimeOffset To { get; set; }

    /// <summary>Who counted.</summary>
    public required string Counter { get; init; }

    /// <summary>The account of the one who counted.</summary>
    public required string CountedById { get; init; }

    public int BoatsLeaving { get; set; }

    public int BoatsAtStation { get; set; }

    public string? Note { get; set; }

    /// <summary>Taken back: it counts for nothing.</summary>
    public bool IsStruck { get; set; }

    public DateTimeOffset Entered { get; init; }

    /// <summary>How often it was corrected: a form made before somebody else's correction is not taken.</summary>
    public int Version { get; set; }

    /// <summary>The form's own key: the same form sent twice is one shift.</summary>
    public required string IdempotencyKey { get; init; }
}

internal sealed class CountShiftConfiguration : IEntityTypeConfiguration<CountShiftRow>
{
    public void Configure(EntityTypeBuilder<CountShiftRow> builder)
    {
        builder.ToTable("count_shifts");
        builder.Property(shift => shift.Id).ValueGeneratedOnAdd();
        builder.Property(shift => shift.Counter).HasMaxLength(80);
        builder.Property(shift => shift.CountedById).HasMaxLength(80);
        builder.Property(shift => shift.Note).HasMaxLength(1000);
        builder.HasOne<Station>().WithMany().HasForeignKey(shift => shift.StationId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Access>().WithMany().HasForeignKey(shift => shift.AccessId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(shift => shift.IdempotencyKey).IsUnique();

        // Serves a station's season.
        builder.HasIndex(shift => new { shift.StationId, shift.From });

        // Serves a person's own shifts.
        builder.HasIndex(shift => new { shift.CountedById, shift.From });
    }
}

/// <summary>How often one tool was used in a count shift; a shift without any row did not watch the tools.</summary>
public sealed class CountedToolUses
{
    public CountShiftId ShiftId { get; init; }

    /// <summary>The tool's slug.</summary>
    public required string Tool { get; init; }

    public int Uses { get; set; }
}

internal sealed class CountedToolUsesConfiguration : IEntityTypeConfiguration<CountedToolUses>
{
    public void Configure(EntityTypeBuilder<CountedToolUses> builder)
    {
        builder.ToTable("counted_tool_uses");
        builder.HasKey(row => new { row.ShiftId, row.Tool });
        builder.Property(row => row.Tool).HasMaxLength(40);
        builder.HasOne<CountShiftRow>().WithMany().HasForeignKey(row => row.ShiftId).OnDelete(DeleteBehavior.Cascade);
    }
}

/// <summary>One correction of a count shift: the old values and the new.</summary>
public sealed class CountShiftEvent
{
    public int Id { get; init; }

    public CountShiftId ShiftId { get; init; }

    public DateTimeOffset At { get; init; }

    public required string Who { get; init; }

    public required string What { get; init; }
}

internal sealed class CountShiftEventConfiguration : IEntityTypeConfiguration<CountShiftEvent>
{
    public void Configure(EntityTypeBuilder<CountShiftEvent> builder)
    {
        builder.ToTable("count_shift_events");
        builder.Property(happening => happening.What).HasMaxLength(4000);
        builder.HasOne<CountShiftRow>().WithMany().HasForeignKey(happening => happening.ShiftId).OnDelete(DeleteBehavior.Restrict);

        // Serves a shift's history in order.
        builder.HasIndex(happening => new { happening.ShiftId, happening.At });
    }
}
