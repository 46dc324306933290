using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Grants;

/// <summary>Puts an item into the register, or corrects it; its shares among owners and sources each make a whole.</summary>
public sealed class SaveItem(IDbContextFactory<FleetDbContext> databases)
{
    public sealed class Command
    {
        /// <summary>The item to correct; null adds one.</summary>
        public EquipmentId? Id { get; init; }

        public string Tag { get; set; } = "";

        public string Description { get; set; } = "";

        public string Model { get; set; } = "";

        public string Serial { get; set; } = "";

        public string Acquired { get; set; } = "";

        /// <summary>Empty: a part that came with its unit.</summary>
        public string Cost { get; set; } = "";

        /// <summary>The tag of the unit it is a part of; empty for a unit.</summary>
        public string Unit { get; set; } = "";

        /// <summary>The code of the station it belongs to; empty when it belongs to none.</summary>
        public string Station { get; set; } = "";

        public string KeptAt { get; set; } = "";

        /// <summary>Each owner's percent, by agency; empty means none.</summary>
        public SortedDictionary<int, string> Owners { get; init; } = [];

        /// <summary>Each award's percent, by award; 0 is the recipient's own money.</summary>
        public SortedDictionary<int, string> Funding { get; init; } = [];
    }

    public abstract record Outcome
    {
        private Outcome()
        {
        }

        public sealed record Saved(EquipmentId Id) : Outcome;

        public sealed record Refused(WrongFields Wrong) : Outcome;

        public sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayKeepBooks())
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        string tag = typed.Text(nameof(Command.Tag), command.Tag, 40, "Write the number on it.");
        string description = typed.Text(nameof(Command.Description), command.Description, 200, "Write what it is.");
        DateOnly acquired = typed.Day(nameof(Command.Acquired), command.Acquired, new DateOnly(1990, 1, 1), new DateOnly(2100, 1, 1));
        Money? cost = TypedMoney.ReadOrNothing(typed, nameof(Command.Cost), command.Cost);
        if (cost is null && command.Unit.Length == 0 && string.IsNullOrWhiteSpace(command.Cost))
        {
            typed.Wrong.Note(nameof(Command.Cost), "Write what the unit cost. Only a part that came with its unit has no cost of its own.");
        }

        bool ownShares = !string.IsNullOrWhiteSpace(command.Cost) || command.Unit.Length == 0;
        List<(int Id, Percentage Share)> owners = ownShares ? Read(typed, nameof(Command.Owners), command.Owners) : [];
        List<(int Id, Percentage Share)> funding = ownShares ? Read(typed, nameof(Command.Funding), command.Funding) : [];
        return await databases.WriteAsync(
            async db =>
            {
                EquipmentItem? item = command.Id is { } id ? await db.Equipment.SingleOrDefaultAsync(row => row.Id == id, cancel) : null;
                if (command.Id is not null && (item is null || !await MayChangeAsync(db, viewer, item, cancel)))
                {
                    return new Outcome.NotAllowed();
                }

                EquipmentId own = command.Id ?? new EquipmentId(0);
                if (await db.Equipment.AnyAsync(row => row.Tag == tag && row.Id != own, cancel))
                {
                    typed.Wrong.Note(nameof(Command.Tag), "Another item has this number.");
                }

                StationId? station = await StationAsync(db, viewer, typed, command, cancel);
                EquipmentId? unit = await UnitAsync(db, typed, command, own, cancel);
                if (typed.Wrong.Count > 0)
                {
                    return new Outcome.Refused(typed.Wrong);
                }

                if (item is null)
                {
                    item = new EquipmentItem { Tag = tag, Description = description };
                    db.Equipment.Add(item);
                }

                (item.Tag, item.Description, item.Model, item.Serial) = (tag, description, command.Model.Trim(), command.Serial.Trim());
                (item.Acquired, item.Cost, item.UnitId) = (acquired, cost, unit);
                (item.StationId, item.KeptAt) = unit is null ? (station, station is null ? command.KeptAt.Trim() : "") : (null, "");
                await db.SaveChangesAsync(cancel);
                await db.EquipmentShares.Where(share => share.ItemId == item.Id).ExecuteDeleteAsync(cancel);
                db.AddRange(owners.Select(owner => new EquipmentShare { ItemId = item.Id, OwnerId = new AgencyId(owner.Id), Share = owner.Share }));
                db.AddRange(funding.Select(source => new EquipmentShare
                {
                    ItemId = item.Id, AwardId = source.Id == 0 ? null : new AwardId(source.Id), Share = source.Share,
                }));
                return (Outcome)new Outcome.Saved(item.Id);
            },
            cancel);
    }

    /// <summary>Whether a person may change an item: one of an agency only what it owns a share of, or what belongs to its stations.</summary>
    public static async Task<bool> MayChangeAsync(FleetDbContext db, Viewer viewer, EquipmentItem item, CancellationToken cancel) =>
        viewer.Agency is not { } agency
        || await db.EquipmentShares.AnyAsync(share => (share.ItemId == item.Id || share.ItemId == item.UnitId) && share.OwnerId == agency, cancel)
        || await db.Stations.VisibleTo(viewer).AnyAsync(
            station => station.Id == item.StationId || db.Equipment.Any(unit => unit.Id == item.UnitId && unit.StationId == station.Id), cancel);

    private static List<(int Id, Percentage Share)> Read(Typed typed, string field, SortedDictionary<int, string> percents)
    {
        List<(int Id, Percentage Share)> shares = [];
        foreach ((int id, string percent) in percents.Where(row => !string.IsNullOrWhiteSpace(row.Value)))
        {
            if (!decimal.TryParse(percent.Trim().TrimEnd('%').Trim(), NumberStyles.Number, CultureInfo.InvariantCulture, out decimal value) || value is < 0 or > 100)
            {
                typed.Wrong.Note(field, "Write each share as a number of percent, such as 60 or 33.33.");
                return [];
            }

            shares.Add((id, Percentage.Of(value)));
        }

        if (Shares.Fault([.. shares.Select(share => share.Share)]) is { } fault)
        {
            typed.Wrong.Note(field, fault);
        }

        return shares;
    }

    private static async Task<StationId?> StationAsync(FleetDbContext db, Viewer viewer, Typed typed, Command command, CancellationToken cancel)
    {
        if (command.Station.Length == 0 || command.Unit.Length > 0)
        {
            return null;
        }

        StationId? station = await db.Stations.VisibleTo(viewer).Where(row => row.Code == command.Station)
            .Select(row => (StationId?)row.Id).SingleOrDefaultAsync(cancel);
        if (station is null)
        {
            typed.Wrong.Note(nameof(Command.Station), "Choose a station of the list.");
        }

        return station;
    }

    private static async Task<EquipmentId?> UnitAsync(FleetDbContext db, Typed typed, Command command, EquipmentId own, CancellationToken cancel)
    {
        if (command.Unit.Length == 0)
        {
            return null;
        }

        EquipmentItem? unit = await db.Equipment.AsNoTracking().SingleOrDefaultAsync(row => row.Tag == command.Unit, cancel);
        if (unit is null || unit.UnitId is not null || unit.Id == own)
        {
            typed.Wrong.Note(nameof(Command.Unit), "Choose a unit of the list: a part has no parts of its own.");
        }
        else if (await db.Equipment.AnyAsync(row => row.UnitId == own, cancel))
        {
            typed.Wrong.Note(nameof(Command.Unit), "It has parts beneath it, so it cannot be a part itself.");
        }

        return unit?.Id;
    }
}

/// <summary>Reads money that a person typed.</summary>
internal static class TypedMoney
{
    /// <summary>An amount of 0 or more; null when nothing was typed or it cannot be taken.</summary>
    public static Money? ReadOrNothing(Typed typed, string field, string? text)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return null;
        }

        if (!decimal.TryParse(text.Trim(), NumberStyles.AllowDecimalPoint | NumberStyles.AllowThousands, CultureInfo.InvariantCulture, out decimal amount)
            || amount * 100 > Money.MostCents)
        {
            typed.Wrong.Note(field, "Write an amount, such as 12,500 or 89.90.");
            return null;
        }

        return Money.Of(amount);
    }

    public static Money Read(Typed typed, string field, string? text)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            typed.Wrong.Note(field, "Write an amount, such as 12,500 or 89.90.");
        }

        return ReadOrNothing(typed, field, text) ?? default;
    }

    /// <summary>As a field shows it.</summary>
    public static string ForField(Money? money) => money?.Amount.ToString("0.##", CultureInfo.InvariantCulture) ?? "";
}
