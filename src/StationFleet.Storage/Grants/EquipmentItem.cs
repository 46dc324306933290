using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Fleet;

namespace StationFleet.Storage.Grants;

/// <summary>A unit that was bought, or a part beneath it.</summary>
public sealed class EquipmentItem
{
    public EquipmentId Id { get; init; }

    /// <summary>The unit it is a part of; null for a unit.</summary>
    public EquipmentId? UnitId { get; set; }

    /// <summary>The station that it is, or belongs to; a part goes with its unit.</summary>
    public StationId? StationId { get; set; }

    /// <summary>The agency's own number on it.</summary>
    public required string Tag { get; set; }

    public required string Description { get; set; }

    public string Model { get; set; } = "";

    public string Serial { get; set; } = "";

    public DateOnly Acquired { get; set; }

    /// <summary>What it cost; null for a part that came with its unit.</summary>
    public Money? Cost { get; set; }

    /// <summary>Where it is kept when it belongs to no station.</summary>
    public string KeptAt { get; set; } = "";

    public DateOnly? DisposedOn { get; set; }

    public DispositionMethod? DisposedHow { get; set; }

    public Money? SalePrice { get; set; }

    public Money? FairMarketValue { get; set; }

    public string DisposedNote { get; set; } = "";
}

internal sealed class EquipmentItemConfiguration : IEntityTypeConfiguration<EquipmentItem>
{
    public void Configure(EntityTypeBuilder<EquipmentItem> builder)
    {
        builder.ToTable("equipment");
        builder.Property(item => item.Id).ValueGeneratedOnAdd();
        builder.Property(item => item.Tag).HasMaxLength(40);
        builder.Property(item => item.Description).HasMaxLength(200);
        builder.HasOne<EquipmentItem>().WithMany().HasForeignKey(item => item.UnitId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Station>().WithMany().HasForeignKey(item => item.StationId).OnDelete(DeleteBehavior.Restrict);

        // The number on an item names it.
        builder.HasIndex(item => item.Tag).IsUnique();
    }
}

/// <summary>A share in an item: of an owner, or of a source that paid.</summary>
public sealed class EquipmentShare
{
    public int Id { get; init; }

    public EquipmentId ItemId { get; init; }

    /// <summary>The owner; null when it is a source that paid.</summary>
    public AgencyId? OwnerId { get; init; }

    /// <summary>The award that paid; null with an owner, and when it was the recipient's own money.</summary>
    public AwardId? AwardId { get; init; }

    public Percentage Share { get; init; }
}

internal sealed class EquipmentShareConfiguration : IEntityTypeConfiguration<EquipmentShare>
{
    public void Configure(EntityTypeBuilder<EquipmentShare> builder)
    {
        builder.ToTable("equipment_shares");
        builder.HasOne<EquipmentItem>().WithMany().HasForeignKey(share => share.ItemId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Agency>().WithMany().HasForeignKey(share => share.OwnerId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<Award>().WithMany().HasForeignKey(share => share.AwardId).OnDelete(DeleteBehavior.Restrict);

        // Serves an item's shares.
        builder.HasIndex(share => share.ItemId);
    }
}

/// <summary>A physical inventory of everything that is not disposed of.</summary>
public sealed class EquipmentInventory
{
    public int Id { get; init; }

    public DateTimeOffset Begun { get; init; }

    public required string BegunBy { get; init; }

    /// <summary>When everything was seen or missed, and each difference resolved; null while it goes on.</summary>
    public DateTimeOffset? Finished { get; set; }
}

internal sealed class EquipmentInventoryConfiguration : IEntityTypeConfiguration<EquipmentInventory>
{
    public void Configure(EntityTypeBuilder<EquipmentInventory> builder) => builder.ToTable("equipment_inventories");
}

/// <summary>What a person saw of an item, at an inventory or at another time; never edited, only followed by another.</summary>
public sealed class EquipmentSighting
{
    public int Id { get; init; }

    public EquipmentId ItemId { get; init; }

    /// <summary>The inventory it belongs to; null at other times.</summary>
    public int? InventoryId { get; init; }

    public DateTimeOffset At { get; init; }

    public required string Who { get; init; }

    public bool WasSeen { get; init; }

    public string Place { get; init; } = "";

    public string Serial { get; init; } = "";

    public ItemCondition? Condition { get; init; }

    public ItemUse? Use { get; init; }

    public string Note { get; init; } = "";

    /// <summary>Where the records had it then.</summary>
    public string ExpectedPlace { get; init; } = "";

    /// <summary>The serial number that the records had then.</summary>
    public string ExpectedSerial { get; init; } = "";

    /// <summary>How its differences were resolved; null while they are not.</summary>
    public string? Resolution { get; set; }

    public string? ResolvedBy { get; set; }

    public DateTimeOffset? Resolved { get; set; }

    /// <summary>The form's own key: the same form sent twice is one sighting.</summary>
    public required string IdempotencyKey { get; init; }

    public Sighting ToSighting() => new(ExpectedPlace, ExpectedSerial, WasSeen, Place, Serial, Condition);
}

internal sealed class EquipmentSightingConfiguration : IEntityTypeConfiguration<EquipmentSighting>
{
    public void Configure(EntityTypeBuilder<EquipmentSighting> builder)
    {
        builder.ToTable("equipment_sightings");
        builder.Property(sighting => sighting.Note).HasMaxLength(1000);
        builder.HasOne<EquipmentItem>().WithMany().HasForeignKey(sighting => sighting.ItemId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<EquipmentInventory>().WithMany().HasForeignKey(sighting => sighting.InventoryId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(sighting => sighting.IdempotencyKey).IsUnique();

        // Serves an item's history.
        builder.HasIndex(sighting => new { sighting.ItemId, sighting.At });
    }
}
