using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace StationFleet.Storage.Watch;

/// <summary>A stretch of time in which our own server was down, so that no station could report.</summary>
public sealed class ServerDowntime
{
    public int Id { get; init; }

    public DateTimeOffset From { get; init; }

    public DateTimeOffset To { get; init; }
}

internal sealed class ServerDowntimeConfiguration : IEntityTypeConfiguration<ServerDowntime>
{
    public void Configure(EntityTypeBuilder<ServerDowntime> builder)
    {
        builder.ToTable("server_downtimes");

        // Serves the watch, which reads those of the last weeks.
        builder.HasIndex(downtime => downtime.To);
    }
}
