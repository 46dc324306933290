using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Service.Visits;

/// <summary>What a person said when asked whether they had emptied a tank that the sensor saw fall.</summary>
public sealed class PumpOutAnswer
{
    public int Id { get; init; }

    public StationId StationId { get; init; }

    /// <summary>When the sensor saw it: late readings may make its row anew, so its number would not last.</summary>
    public DateTimeOffset PumpOutAt { get; init; }

    public required string PersonId { get; init; }

    /// <summary>The person's display name.</summary>
    public required string Who { get; init; }

    public DateTimeOffset At { get; init; }

    public bool WasThem { get; init; }
}

internal sealed class PumpOutAnswerConfiguration : IEntityTypeConfiguration<PumpOutAnswer>
{
    public void Configure(EntityTypeBuilder<PumpOutAnswer> builder)
    {
        builder.ToTable("pump_out_answers");
        builder.HasOne<Station>().WithMany().HasForeignKey(answer => answer.StationId).OnDelete(DeleteBehavior.Restrict);

        // A person answers once.
        builder.HasIndex(answer => new { answer.StationId, answer.PumpOutAt, answer.PersonId }).IsUnique();
    }
}
