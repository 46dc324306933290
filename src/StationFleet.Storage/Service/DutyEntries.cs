using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service.Duty;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Service;

/// <summary>Hours in which a person is on duty, week after week.</summary>
public sealed class DutyEntry
{
    public int Id { get; init; }

    public required string PersonId { get; set; }

    /// <summary>Where; null: at every access.</summary>
    public AccessId? AccessId { get; set; }

    public Weekdays Days { get; set; }

    /// <summary>By the access's clock.</summary>
    public TimeOnly From { get; set; }

    /// <summary>By the access's clock; the same as <see cref="From"/>: a whole day.</summary>
    public TimeOnly To { get; set; }
}

internal sealed class DutyEntryConfiguration : IEntityTypeConfiguration<DutyEntry>
{
    public void Configure(EntityTypeBuilder<DutyEntry> builder)
    {
        builder.ToTable("duty_hours");
        builder.HasOne<FleetUser>().WithMany().HasForeignKey(entry => entry.PersonId).OnDelete(DeleteBehavior.Cascade);
        builder.HasOne<Access>().WithMany().HasForeignKey(entry => entry.AccessId).OnDelete(DeleteBehavior.Cascade);
    }
}

/// <summary>Local days on which a person is away.</summary>
public sealed class AbsenceEntry
{
    public int Id { get; init; }

    public required string PersonId { get; set; }

    /// <summary>Who takes the hours; null: nobody.</summary>
    public string? StandInId { get; set; }

    public DateOnly FirstDay { get; set; }

    public DateOnly LastDay { get; set; }
}

internal sealed class AbsenceEntryConfiguration : IEntityTypeConfiguration<AbsenceEntry>
{
    public void Configure(EntityTypeBuilder<AbsenceEntry> builder)
    {
        builder.ToTable("absences");
        builder.HasOne<FleetUser>().WithMany().HasForeignKey(entry => entry.PersonId).OnDelete(DeleteBehavior.Cascade);
        builder.HasOne<FleetUser>().WithMany().HasForeignKey(entry => entry.StandInId).OnDelete(DeleteBehavior.SetNull);
    }
}
