using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace StationFleet.Storage.Grants;

/// <summary>A season summary as it was handed in: its figures stay what they were.</summary>
public sealed class SubmittedSummary
{
    public int Id { get; init; }

    public required string Title { get; init; }

    /// <summary>What was asked for, as its page's address carries it.</summary>
    public required string Query { get; init; }

    public DateTimeOffset At { get; init; }

    public required string By { get; init; }

    /// <summary>The figures of each station and of all together, as JSON.</summary>
    public required string Figures { get; init; }
}

internal sealed class SubmittedSummaryConfiguration : IEntityTypeConfiguration<SubmittedSummary>
{
    public void Configure(EntityTypeBuilder<SubmittedSummary> builder) => builder.ToTable("submitted_summaries");
}
