using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Service;

/// <summary>Who changed a rule's cautions and steps, when, why and to what; never overwritten, the newest of a rule holds.</summary>
public sealed class GuidanceChange
{
    public int Id { get; init; }

    public Rule Rule { get; init; }

    public DateTimeOffset At { get; init; }

    public required string Who { get; init; }

    /// <summary>Why; never empty where a default caution is left out.</summary>
    public string Reason { get; init; } = "";

    /// <summary>One to a line; null: the default steps.</summary>
    public string? Steps { get; init; }

    /// <summary>One to a line.</summary>
    public string AddedCautions { get; init; } = "";

    /// <summary>One to a line.</summary>
    public string RemovedCautions { get; init; } = "";

    public GuidanceEdit ToEdit() => new(Steps is null ? null : Lines(Steps), Lines(AddedCautions), Lines(RemovedCautions));

    private static string[] Lines(string text) => text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}

internal sealed class GuidanceChangeConfiguration : IEntityTypeConfiguration<GuidanceChange>
{
    public void Configure(EntityTypeBuilder<GuidanceChange> builder)
    {
        builder.ToTable("guidance_changes");
        builder.Property(change => change.Who).HasMaxLength(120);
        builder.Property(change => change.Reason).HasMaxLength(500);

        // Serves "what holds for this rule?" and its history.
        builder.HasIndex(change => new { change.Rule, change.Id });
    }
}

/// <summary>Reads what holds now.</summary>
public static class GuidanceReader
{
    public static async Task<Guidance> GuidanceAsync(this FleetDbContext db, CancellationToken cancel) => new(
        (await db.GuidanceChanges.AsNoTracking()
            .Where(change => !db.GuidanceChanges.Any(later => later.Rule == change.Rule && later.Id > change.Id))
            .ToListAsync(cancel)).ToDictionary(change => change.Rule, change => change.ToEdit()));

    /// <summary>Each step that a rule ever had: a phone may have kept a form from before a change.</summary>
    public static async Task<IReadOnlyList<string>> StepsEverAsync(this FleetDbContext db, Rule rule, CancellationToken cancel) =>
    [
        .. (await db.GuidanceAsync(cancel)).StepsFor(rule)
            .Concat((await db.GuidanceChanges.AsNoTracking().Where(change => change.Rule == rule).ToListAsync(cancel)).SelectMany(change => change.ToEdit().Steps ?? []))
            .Concat(Checklists.For(rule))
            .Distinct(),
    ];
}
