using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Watch;

/// <summary>How far the watch has got with one station: a restart goes on from here.</summary>
public sealed class WatchPosition
{
    public StationId StationId { get; init; }

    /// <summary>The last report that the engine has consumed, in received order.</summary>
    public long LastReportId { get; set; }

    /// <summary>The last instant that was judged.</summary>
    public DateTimeOffset EvaluatedTo { get; set; }

    /// <summary>What its panel gives of late as a share of what it used to, for its neighbours; null when not known.</summary>
    public double? PanelRatio { get; set; }

    /// <summary>What is to be expected of the station, as JSON; null when nothing was reckoned yet.</summary>
    public string? Ahead { get; set; }

    /// <summary>The engine's state, as JSON.</summary>
    public required string State { get; set; }

    /// <summary>
    /// The position of a station whose watch begins at an instant, for data that are older than the watch; without a row the
    /// watch begins when the station came into being.
    /// </summary>
    public static WatchPosition StartingAt(StationId station, DateTimeOffset from) => new()
    {
        StationId = station, EvaluatedTo = from, State = WatchJson.Write(WatchState.StartingAt(from)),
    };
}

internal sealed class WatchPositionConfiguration : IEntityTypeConfiguration<WatchPosition>
{
    public void Configure(EntityTypeBuilder<WatchPosition> builder)
    {
        builder.ToTable("watch_positions");
        builder.HasKey(position => position.StationId);
        builder.Property(position => position.StationId).ValueGeneratedNever();
        builder.HasOne<Station>().WithOne().HasForeignKey<WatchPosition>(p => p.StationId).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>What was known of a station at the start of a local day; a late measurement rolls back to it.</summary>
public sealed class WatchCheckpoint
{
    public StationId StationId { get; init; }

    public DateOnly Day { get; init; }

    /// <summary>The start of that day: every measurement before it is in the state.</summary>
    public DateTimeOffset AsOf { get; init; }

    public required string State { get; set; }
}

internal sealed class WatchCheckpointConfiguration : IEntityTypeConfiguration<WatchCheckpoint>
{
    public void Configure(EntityTypeBuilder<WatchCheckpoint> builder)
    {
        builder.ToTable("watch_checkpoints");
        builder.HasKey(checkpoint => new { checkpoint.StationId, checkpoint.Day });
        builder.HasOne<Station>().WithMany().HasForeignKey(c => c.StationId).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>A problem that is on now, as the watch last saw it: what pages show without running the engine.</summary>
public sealed class ProblemRow
{
    public StationId StationId { get; init; }

    public Rule Rule { get; init; }

    /// <summary>The part it is about: a tool's slug, or empty.</summary>
    public required string Part { get; init; }

    public Urgency Urgency { get; set; }

    public DateTimeOffset Since { get; set; }

    /// <summary>The <see cref="Evidence"/>, as JSON.</summary>
    public required string Evidence { get; set; }
}

internal sealed class ProblemRowConfiguration : IEntityTypeConfiguration<ProblemRow>
{
    public void Configure(EntityTypeBuilder<ProblemRow> builder)
    {
        builder.ToTable("problems");
        builder.HasKey(problem => new { problem.StationId, problem.Rule, problem.Part });
        builder.HasOne<Station>().WithMany().HasForeignKey(p => p.StationId).OnDelete(DeleteBehavior.Restrict);
    }
}
