using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Grants;

/// <summary>A named set of a funder's rules, which several awards share.</summary>
public sealed class AwardTermsSet
{
    public int Id { get; init; }

    public required AwardTerms Terms { get; set; }
}

internal sealed class AwardTermsSetConfiguration : IEntityTypeConfiguration<AwardTermsSet>
{
    public void Configure(EntityTypeBuilder<AwardTermsSet> builder)
    {
        builder.ToTable("award_terms");
        builder.Property(set => set.Terms).HasConversion(
            terms => JsonSerializer.Serialize(terms, JsonSerializerOptions.Web),
            json => JsonSerializer.Deserialize<AwardTerms>(json, JsonSerializerOptions.Web)!);

        // A beginning that people change; the numbers are one country's.
        builder.HasData(
            Set(1, "US federal, awards since October 2024", 10_000, 1_000, "2 CFR 200.313, .329, .334 and .344 as revised on 22 April 2024 (89 FR 30136)"),
            Set(2, "US federal, awards before October 2024", 5_000, 500, "2 CFR 200.313, .329, .334 and .344 before that revision"));
    }

    private static AwardTermsSet Set(int id, string name, decimal threshold, decimal handling, string source) => new()
    {
        Id = id,
        Terms = new AwardTerms
        {
            Name = name,
            NumberName = "FAIN",
            EquipmentFrom = Money.Of(threshold),
            NothingOwedUpTo = Money.Of(threshold),
            MostForHandling = Money.Of(handling),
            Source = source,
        },
    };
}

/// <summary>One grant.</summary>
public sealed class Award
{
    public AwardId Id { get; init; }

    /// <summary>Its number, by which people know it.</summary>
    public required string Number { get; set; }

    public required string Title { get; set; }

    public required string Funder { get; set; }

    /// <summary>The first day of the period of performance.</summary>
    public DateOnly Starts { get; set; }

    /// <summary>Its last day.</summary>
    public DateOnly Ends { get; set; }

    /// <summary>Its money is the federal agency's.</summary>
    public bool IsFederal { get; set; }

    /// <summary>The money comes through another recipient.</summary>
    public bool IsSubrecipient { get; set; }

    public ReportRhythm Rhythm { get; set; }

    public int TermsId { get; set; }

    public Money MatchRequired { get; set; }
}

internal sealed class AwardConfiguration : IEntityTypeConfiguration<Award>
{
    public void Configure(EntityTypeBuilder<Award> builder)
    {
        builder.ToTable("awards");
        builder.Property(award => award.Id).ValueGeneratedOnAdd();
        builder.Property(award => award.Number).HasMaxLength(60);
        builder.Property(award => award.Title).HasMaxLength(200);
        builder.Property(award => award.Funder).HasMaxLength(120);
        builder.HasOne<AwardTermsSet>().WithMany().HasForeignKey(award => award.TermsId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(award => award.Number).IsUnique();
    }
}

/// <summary>A station whose figures an award's reports tell.</summary>
public sealed class AwardStation
{
    public AwardId AwardId { get; init; }

    public StationId StationId { get; init; }
}

internal sealed class AwardStationConfiguration : IEntityTypeConfiguration<AwardStation>
{
    public void Configure(EntityTypeBuilder<AwardStation> builder)
    {
        builder.ToTable("award_stations");
        builder.HasKey(row => new { row.AwardId, row.StationId });
        builder.HasOne<Award>().WithMany().HasForeignKey(row => row.AwardId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Station>().WithMany().HasForeignKey(row => row.StationId).OnDelete(DeleteBehavior.Restrict);
    }
}

/// <summary>What is known of one of an award's reports beside its period: another due day, whether it is in, which reminder went out.</summary>
public sealed class AwardReport
{
    public int Id { get; init; }

    public AwardId AwardId { get; init; }

    public DateOnly PeriodEnd { get; init; }

    public bool IsFinal { get; init; }

    /// <summary>The day that the funder or pass-through named; it prevails. Null goes by the terms.</summary>
    public DateOnly? NamedDue { get; set; }

    public DateOnly? HandedIn { get; set; }

    /// <summary>The newest reminder that went out, in days before the due day; null when none did.</summary>
    public int? Reminded { get; set; }
}

internal sealed class AwardReportConfiguration : IEntityTypeConfiguration<AwardReport>
{
    public void Configure(EntityTypeBuilder<AwardReport> builder)
    {
        builder.ToTable("award_reports");
        builder.HasOne<Award>().WithMany().HasForeignKey(report => report.AwardId).OnDelete(DeleteBehavior.Restrict);

        // What is known of a report is known once.
        builder.HasIndex(report => new { report.AwardId, report.PeriodEnd, report.IsFinal }).IsUnique();
    }
}

/// <summary>One line of an award's indicator table.</summary>
public sealed class AwardIndicator
{
    public int Id { get; init; }

    public AwardId AwardId { get; init; }

    public required string Label { get; set; }

    public required string Description { get; set; }

    /// <summary>The key of the season figure that is its actual; null when people write the actual themselves.</summary>
    public string? Figure { get; set; }

    public double? Target { get; set; }

    /// <summary>The actual that people wrote; not used with a figure.</summary>
    public double? Written { get; set; }

    public string Unit { get; set; } = "";

    public string Note { get; set; } = "";
}

internal sealed class AwardIndicatorConfiguration : IEntityTypeConfiguration<AwardIndicator>
{
    public void Configure(EntityTypeBuilder<AwardIndicator> builder)
    {
        builder.ToTable("award_indicators");
        builder.Property(indicator => indicator.Label).HasMaxLength(40);
        builder.Property(indicator => indicator.Description).HasMaxLength(300);
        builder.Property(indicator => indicator.Note).HasMaxLength(1000);
        builder.HasOne<Award>().WithMany().HasForeignKey(indicator => indicator.AwardId).OnDelete(DeleteBehavior.Restrict);

        // A label is one line of the table.
        builder.HasIndex(indicator => new { indicator.AwardId, indicator.Label }).IsUnique();
    }
}
