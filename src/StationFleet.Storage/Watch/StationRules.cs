using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Watch;

/// <summary>The limits of the watch at one station; a station without a row has the defaults.</summary>
public sealed class StationRules
{
    public StationId StationId { get; init; }

    public double IdleAfterDays { get; set; } = RuleSettings.Default.IdleAfterDays;

    public int IdleMinOtherUses { get; set; } = RuleSettings.Default.IdleMinOtherUses;

    public double TankSoonShare { get; set; } = RuleSettings.Default.TankSoonShare;

    public double TankRaiseShare { get; set; } = RuleSettings.Default.TankRaiseShare;

    public double ChargeSoonShare { get; set; } = RuleSettings.Default.ChargeSoonShare;

    public double ChargeRaiseShare { get; set; } = RuleSettings.Default.ChargeRaiseShare;

    public double SilentAfterHours { get; set; } = RuleSettings.Default.SilentAfterHours;

    public RuleSettings ToSettings() => new(
        IdleAfterDays, IdleMinOtherUses, TankSoonShare, TankRaiseShare, ChargeSoonShare, ChargeRaiseShare, SilentAfterHours);
}

internal sealed class StationRulesConfiguration : IEntityTypeConfiguration<StationRules>
{
    public void Configure(EntityTypeBuilder<StationRules> builder)
    {
        builder.ToTable("station_rules");
        builder.HasKey(rules => rules.StationId);
        builder.Property(rules => rules.StationId).ValueGeneratedNever();
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
