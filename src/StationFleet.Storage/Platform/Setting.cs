using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace StationFleet.Storage.Platform;

/// <summary>A setting of the whole fleet that people change at run time, or that must outlive a restart.</summary>
public sealed class Setting
{
    public required string Name { get; init; }

    public required string Value { get; set; }
}

/// <summary>The names of settings that more than one feature reads; names are stored and must not change.</summary>
public static class SettingNames
{
    /// <summary>The IANA time zone of days in transit and of the fleet's own pages; UTC when it is not set.</summary>
    public const string FleetTimeZone = "fleet/time-zone";
}

internal sealed class SettingConfiguration : IEntityTypeConfiguration<Setting>
{
    public void Configure(EntityTypeBuilder<Setting> builder)
    {
        builder.ToTable("settings");
        builder.HasKey(setting => setting.Name);
    }
}
