using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Storage.Accounts;

namespace StationFleet.Storage.Mail;

/// <summary>Which mails a person wants, and when; nothing chosen takes what is usual.</summary>
public sealed class MailChoices
{
    public required string PersonId { get; init; }

    /// <summary>Whether the morning mail comes; null: as is usual for the person's roles.</summary>
    public bool? Morning { get; set; }

    /// <summary>Whether the weekly mail comes; null: as is usual for the person's roles.</summary>
    public bool? Weekly { get; set; }

    /// <summary>When the person's own quiet hours begin, by the access's clock; null: the installation's.</summary>
    public TimeOnly? QuietFrom { get; set; }

    /// <summary>When they end; the same as their beginning: the person has none.</summary>
    public TimeOnly? QuietTo { get; set; }
}

internal sealed class MailChoicesConfiguration : IEntityTypeConfiguration<MailChoices>
{
    public void Configure(EntityTypeBuilder<MailChoices> builder)
    {
        builder.ToTable("mail_choices");
        builder.HasKey(choices => choices.PersonId);
        builder.HasOne<FleetUser>().WithMany().HasForeignKey(choices => choices.PersonId).OnDelete(DeleteBehavior.Cascade);
    }
}
