using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Grants;
using StationFleet.Domain.Quantities;
using StationFleet.Storage.Grants;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Platform.Demo;

/// <summary>The invented awards, equipment, hours and costs of the demo; made once.</summary>
internal sealed class LoadDemoGrants(IDbContextFactory<FleetDbContext> databases)
{
    private const string Supervisor = "District supervisor";
    private const string Crew = "Field crew";
    private static readonly DateTimeOffset LastInventory = new(2025, 10, 22, 20, 0, 0, TimeSpan.Zero);

    private static readonly string[] FixedStations = ["COP-1", "COP-2", "OTT-1", "SOR-1"];
    private static readonly string[] WithPortables = ["PORT-A", "PORT-B", "COP-1"];

    private static readonly (string Name, string Model)[] Parts =
        [("Vacuum head", "Invented Works VH-2"), ("Waste tank", "Invented Works T-55"), ("Solar panel", "Sample Solar 200"), ("Controller with radio", "Example Radio R3")];

    public Task HandleAsync(CancellationToken cancel) => databases.WriteAsync(
        async db =>
        {
            if (!await db.Awards.AnyAsync(cancel))
            {
                await AddAsync(db, cancel);
            }
        },
        cancel);

    private static async Task AddAsync(FleetDbContext db, CancellationToken cancel)
    {
        Dictionary<string, StationId> stations = await db.Stations.ToDictionaryAsync(station => station.Code, station => station.Id, cancel);
        Dictionary<string, AgencyId> agencies = await db.Agencies.ToDictionaryAsync(agency => agency.Name, agency => agency.Id, cancel);
        Award first = new()
        {
            Number = "JBWD-2025-01", Title = "Self-service cleaning stations at three waters", Funder = "State invasive species fund",
            Starts = new DateOnly(2024, 9, 15), Ends = new DateOnly(2026, 9, 30), IsFederal = true, Rhythm = ReportRhythm.HalfYearly, TermsId = 2,
            MatchRequired = Money.Of(40_000),
        };
        Award second = new()
        {
            Number = "JBWD-2026-02", Title = "Portable stations and service visits", Funder = "State conservation department, for a federal agency",
            Starts = new DateOnly(2026, 1, 1), Ends = new DateOnly(2027, 12, 31), IsFederal = true, IsSubrecipient = true,
            Rhythm = ReportRhythm.Quarterly, TermsId = 1, MatchRequired = Money.Of(12_000),
        };
        db.AddRange(first, second);
        await db.SaveChangesAsync(cancel);
        AddReports(db, first, second, stations);
        await AddEquipmentAsync(db, first, second, stations, agencies, cancel);
        AddBooks(db, first, second, stations);
    }

    private static void AddReports(FleetDbContext db, Award first, Award second, Dictionary<string, StationId> stations)
    {
        db.AddRange(FixedStations.Select(code => new AwardStation { AwardId = first.Id, StationId = stations[code] }));
        db.AddRange(WithPortables.Select(code => new AwardStation { AwardId = second.Id, StationId = stations[code] }));
        db.AddRange(
            new AwardReport { AwardId = first.Id, PeriodEnd = new DateOnly(2024, 12, 31), HandedIn = new DateOnly(2025, 1, 28) },
            new AwardReport { AwardId = first.Id, PeriodEnd = new DateOnly(2025, 6, 30), HandedIn = new DateOnly(2025, 7, 29) },
            new AwardReport { AwardId = first.Id, PeriodEnd = new DateOnly(2025, 12, 31), HandedIn = new DateOnly(2026, 1, 26) },
            new AwardReport { AwardId = second.Id, PeriodEnd = new DateOnly(2026, 3, 31), HandedIn = new DateOnly(2026, 4, 20) },
            new AwardReport { AwardId = second.Id, PeriodEnd = new DateOnly(2026, 6, 30), NamedDue = new DateOnly(2026, 7, 20) });
        db.AddRange(
            new AwardIndicator { AwardId = first.Id, Label = "B-01", Description = "Tool uses at the four fixed stations", Figure = "uses", Target = 40_000 },
            new AwardIndicator { AwardId = first.Id, Label = "B-02", Description = "", Figure = "availability", Target = 95 },
            new AwardIndicator { AwardId = first.Id, Label = "B-03", Description = "", Figure = "litres_pumped_out" },
            new AwardIndicator { AwardId = first.Id, Label = "B-04", Description = "Outreach days at the ramps", Target = 8, Written = 5, Unit = "d", Note = "The May day was rained out." },
            new AwardIndicator { AwardId = second.Id, Label = "B-01", Description = "Days in service of the portable stations and COP-1", Figure = "days_in_service", Target = 500 },
            new AwardIndicator { AwardId = second.Id, Label = "B-02", Description = "", Figure = "mean_hours_to_restoration", Target = 48, Note = "Nights and driving included." });
    }

    private static async Task AddEquipmentAsync(
        FleetDbContext db, Award first, Award second, Dictionary<string, StationId> stations, Dictionary<string, AgencyId> agencies, CancellationToken cancel)
    {
        AgencyId district = agencies["Juniper Basin Watershed District"];
        AgencyId campgrounds = agencies["Sorrel Forest Campgrounds"];
        EquipmentInventory inventory = new() { Begun = LastInventory.AddDays(-1), BegunBy = Crew, Finished = LastInventory };
        db.Add(inventory);
        await db.SaveChangesAsync(cancel);
        int number = 101;
        foreach ((string code, StationId station) in stations.OrderBy(each => each.Key, StringComparer.Ordinal))
        {
            bool isPortable = code.StartsWith("PORT", StringComparison.Ordinal);
            EquipmentItem unit = new()
            {
                Tag = $"JB-{number}", Description = $"Cleaning station {code}", Model = isPortable ? "Invented Works WS-2 on a trailer" : "Invented Works WS-4",
                Serial = $"WS{number}-{code.Length}4", StationId = station, Acquired = isPortable ? new DateOnly(2026, 2, 20) : new DateOnly(2025, 3, 11),
                Cost = Money.Of(isPortable ? 14_900 : 18_400),
            };
            db.Add(unit);
            await db.SaveChangesAsync(cancel);
            AddShares(db, unit.Id, isPortable ? second : first, isPortable ? 80 : 60, code == "SOR-1" ? [(district, 70), (campgrounds, 30)] : [(district, 100)]);
            EquipmentItem[] parts =
            [
                .. Parts.Select((part, index) => new EquipmentItem
                {
                    UnitId = unit.Id, Tag = $"{unit.Tag}-{index + 1}", Description = part.Name, Model = part.Model, Serial = $"P{number}{index}", Acquired = unit.Acquired,
                }),
            ];
            db.AddRange(parts);
            await db.SaveChangesAsync(cancel);
            if (!isPortable)
            {
                db.AddRange(parts.Prepend(unit).Select(item => new EquipmentSighting
                {
                    ItemId = item.Id, InventoryId = inventory.Id, At = LastInventory.AddHours(-4), Who = Crew, WasSeen = true, Condition = ItemCondition.Good,
                    Use = ItemUse.InUse, IdempotencyKey = $"demo-sighting-{item.Tag}",
                }));
            }

            number++;
        }

        EquipmentItem battery = new()
        {
            UnitId = (await db.Equipment.SingleAsync(item => item.StationId == stations["COP-1"], cancel)).Id, Tag = "JB-120",
            Description = "Battery, replaced", Model = "Sample Power 200 Ah", Serial = "SP-88217", Acquired = new DateOnly(2026, 4, 14), Cost = Money.Of(1_240),
        };
        EquipmentItem washer = new()
        {
            Tag = "JB-090", Description = "Hot-water pressure washer on a trailer", Model = "Invented Works HW-12", Serial = "HW-0031", KeptAt = "District yard",
            Acquired = new DateOnly(2024, 10, 2), Cost = Money.Of(16_200), DisposedOn = new DateOnly(2026, 3, 18), DisposedHow = DispositionMethod.Sold,
            SalePrice = Money.Of(12_000), FairMarketValue = Money.Of(12_000), DisposedNote = "At auction; no longer needed since the stations stand.",
        };
        db.AddRange(battery, washer);
        await db.SaveChangesAsync(cancel);
        AddShares(db, battery.Id, second, 100, [(district, 100)]);
        AddShares(db, washer.Id, first, 60, [(district, 100)]);
    }

    private static void AddShares(FleetDbContext db, EquipmentId item, Award award, int percent, (AgencyId Agency, int Percent)[] owners)
    {
        db.AddRange(owners.Select(owner => new EquipmentShare { ItemId = item, OwnerId = owner.Agency, Share = Percentage.Of(owner.Percent) }));
        db.Add(new EquipmentShare { ItemId = item, AwardId = award.Id, Share = Percentage.Of(percent) });
        if (percent < 100)
        {
            db.Add(new EquipmentShare { ItemId = item, Share = Percentage.Of(100 - percent) });
        }
    }

    private static void AddBooks(FleetDbContext db, Award first, Award second, Dictionary<string, StationId> stations)
    {
        DateTimeOffset entered = new(2026, 7, 3, 22, 0, 0, TimeSpan.Zero);
        string[] codes = [.. stations.Keys.Order(StringComparer.Ordinal)];
        for (int day = 0; day < 40; day++)
        {
            string code = codes[day % codes.Length];
            db.Add(new TimeEntry
            {
                Person = Crew, Day = new DateOnly(2026, 5, 4).AddDays((day * 3) / 2), StartMinute = (8 * 60) + (15 * (day % 4)), Minutes = 60 + (10 * (day % 5)),
                Activity = day % 3 == 0 ? "Pump-out and round" : "Service round", StationId = stations[code], AwardId = code.StartsWith("PORT", StringComparison.Ordinal) ? second.Id : first.Id,
                Kind = day % 4 == 0 ? TimeKind.Match : TimeKind.Paid, RatePerHour = Money.Of(34.5m), Entered = entered, EnteredBy = Supervisor, IdempotencyKey = $"demo-time-{day:000}-000000",
            });
        }

        for (int week = 0; week < 8; week++)
        {
            db.Add(new TimeEntry
            {
                Person = "Ramp stewards", Day = new DateOnly(2026, 5, 9).AddDays(7 * week), StartMinute = 9 * 60, Minutes = 240, Activity = "Showing boaters the station",
                StationId = stations["OTT-1"], AwardId = second.Id, Kind = TimeKind.Volunteer, RatePerHour = Money.Of(29.95m), Entered = entered, EnteredBy = Supervisor,
                IdempotencyKey = $"demo-volunteer-{week:000}-000000",
            });
        }

        db.AddRange(
            Cost(1, new DateOnly(2026, 5, 12), "Waste water to the treatment plant", 640, first.Id, null, TimeKind.Paid),
            Cost(2, new DateOnly(2026, 6, 20), "Hoses and brush heads", 389.9m, first.Id, stations["COP-2"], TimeKind.Paid),
            Cost(3, new DateOnly(2026, 6, 2), "Truck, as the district's match", 1_150, second.Id, null, TimeKind.Match));

        CostEntry Cost(int id, DateOnly day, string what, decimal amount, AwardId award, StationId? station, TimeKind kind) => new()
        {
            Day = day, What = what, Amount = Money.Of(amount), AwardId = award, StationId = station, Kind = kind, Entered = entered, EnteredBy = Supervisor,
            IdempotencyKey = $"demo-cost-{id:000}-000000000",
        };
    }
}
