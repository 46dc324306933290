using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Watch;

/// <summary>The limits of the watch at one station; a station without a row has the starting values.</summary>
public sealed class StationRules
{
    public StationId StationId { get; init; }

    /// <summary>The limits, as JSON; what it does not say has its starting value.</summary>
    public required RuleSettings Settings { get; set; }
}

internal sealed class StationRulesConfiguration : IEntityTypeConfiguration<StationRules>
{
    public void Configure(EntityTypeBuilder<StationRules> builder)
    {
        builder.ToTable("station_rules");
        builder.HasKey(rules => rules.StationId);
        builder.Property(rules => rules.StationId).ValueGeneratedNever();
        builder.Property(rules => rules.Settings).HasConversion(
            settings => JsonSerializer.Serialize(settings, JsonSerializerOptions.Default),
            json => JsonSerializer.Deserialize<RuleSettings>(json, JsonSerializerOptions.Default) ?? RuleSettings.Default);
        builder.HasOne<Station>().WithOne().HasForeignKey<StationRules>(rules => rules.StationId).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>Who changed a station's limits, when, why and to what; never overwritten.</summary>
public sealed class RuleChange
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    public DateTimeOffset At { get; init; }

    public required string Who { get; init; }

    public required string Reason { get; init; }

    /// <summary>The <see cref="RuleSettings"/> from then on, as JSON.</summary>
    public required string Settings { get; init; }
}

internal sealed class RuleChangeConfiguration : IEntityTypeConfiguration<RuleChange>
{
    public void Configure(EntityTypeBuilder<RuleChange> builder)
    {
        builder.ToTable("rule_changes");
        builder.HasOne<Station>().WithMany().HasForeignKey(change => change.StationId).OnDelete(DeleteBehavior.Restrict);

        // Serves a station's history of limits.
        builder.HasIndex(change => new { change.StationId, change.At });
    }
}
