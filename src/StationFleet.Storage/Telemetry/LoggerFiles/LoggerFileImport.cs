using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Telemetry.LoggerFiles;

/// <summary>A logger's file that somebody imported: who, when, how it was read, and what became of it.</summary>
public sealed class LoggerFileImport
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    /// <summary>Who imported it, as pages call the person.</summary>
    public required string Who { get; init; }

    /// <summary>When it was handed in, by the fleet's clock.</summary>
    public DateTimeOffset At { get; init; }

    public required string FileName { get; init; }

    public long Bytes { get; init; }

    /// <summary>The headings of its columns: the next file with the same ones is read in the same way.</summary>
    public required string Headings { get; init; }

    /// <summary>The <see cref="LoggerFileLayout"/>, as JSON.</summary>
    public required string Layout { get; init; }

    public ImportEnd End { get; set; }

    /// <summary>The <see cref="LoggerFileCounts"/>, as JSON; the last ones known while it runs.</summary>
    public required string Counts { get; set; }

    public static string Write<T>(T value) => JsonSerializer.Serialize(value, JsonSerializerOptions.Web);

    public LoggerFileCounts ReadCounts() => JsonSerializer.Deserialize<LoggerFileCounts>(Counts, JsonSerializerOptions.Web)!;

    public LoggerFileLayout ReadLayout() => JsonSerializer.Deserialize<LoggerFileLayout>(Layout, JsonSerializerOptions.Web)!;
}

internal sealed class LoggerFileImportConfiguration : IEntityTypeConfiguration<LoggerFileImport>
{
    public void Configure(EntityTypeBuilder<LoggerFileImport> builder)
    {
        builder.ToTable("logger_file_imports");
        builder.HasOne<Station>().WithMany().HasForeignKey(import => import.StationId).OnDelete(DeleteBehavior.Restrict);

        // Serves the list of past imports, and "how was this station's last file read?".
        builder.HasIndex(import => new { import.StationId, import.At });
    }
}
