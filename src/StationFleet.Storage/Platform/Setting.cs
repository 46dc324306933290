using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace StationFleet.Storage.Platform;

/// <summary>A setting of the whole fleet that people change at run time, or that must outlive a restart.</summary>
public sealed class Setting
{
    public required string Name { get; init; }

    public required string Value { get; set; }
}

internal sealed class SettingConfiguration : IEntityTypeConfiguration<Setting>
{
    public void Configure(EntityTypeBuilder<Setting> builder)
    {
        builder.ToTable("settings");
        builder.HasKey(setting => setting.Name);
    }
}
