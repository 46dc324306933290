using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Time;

namespace StationFleet.Domain.Quality;

/// <summary>
/// The fleet file of one simulated station-season: one station with five tools over 200 days. Every third season is healthy; in the
/// others one tool and one other part fail, in turn through all kinds of faults, at an instant between day 30 and day 150.
/// </summary>
/// <remarks>Everything here is invented. It was fixed before any rule was tuned, and knows nothing of the rules.</remarks>
public static class QualityWorld
{
    /// <summary>The station's code.</summary>
    public const string Code = "Q-1";

    /// <summary>The first local day of the season.</summary>
    public static readonly DateOnly First = new(2026, 4, 15);

    /// <summary>The last local day of the season.</summary>
    public static readonly DateOnly Last = new(2026, 10, 31);

    /// <summary>The tools, with the share of boats that use each.</summary>
    public static readonly IReadOnlyList<(string Slug, ToolKind Kind, double Share)> Tools =
    [
        ("brush", ToolKind.Brush, 0.70), ("wrench", ToolKind.Wrench, 0.45), ("vacuum", ToolKind.Vacuum, 0.30),
        ("blower", ToolKind.Blower, 0.15), ("grabber", ToolKind.Grabber, 0.07),
    ];

    private const string Agency = "Juniper Basin Watershed District";
    // 1.2 US gallons a boat on the mean, all of it through the vacuum.
    private const double LitresPerVacuumBoat = 1.2 * Quantities.Units.LitresPerUsGallon / 0.30;
    private const int KindsOfOtherFaults = 20;

    /// <summary>Makes the season's fleet file.</summary>
    /// <param name="season">The season.</param>
    /// <param name="world">How unruly it is.</param>
    public static FleetFile Of(QualitySeason season, SimulatedWorldKind world)
    {
        TimeZoneInfo zone = TimeZoneInfo.FindSystemTimeZoneById("America/Boise");
        DateTimeOffset created = LocalCalendar.StartOf(First, zone);
        Dice dice = Dice.For(season.Seed, "quality/station");
        bool isPortable = OtherFault(season) == KindsOfOtherFaults - 1 || dice.Chance(0.25);
        (double litres, double ampereHours, double panel) = SizeOf(season.Level);
        FleetTank tank = (season.Seed % 3) switch
        {
            0 => new FleetTank(litres),
            1 => new FleetTank(litres, HeightM: 0.81),
            _ => new FleetTank(litres, HeightM: 0.81, SensorHeightM: 1.1),
        };
        return new FleetFile
        {
            Name = $"Quality world {season.Seed}",
            Notice = "Invented data: no such district, water or person exists.",
            TimeZone = zone.Id,
            Seasons = [new FleetSeason("2026", First, Last)],
            Agencies = [new FleetAgency(Agency)],
            People = [new FleetPerson("District biologist", "biologist@juniper-basin.example", "Biologist")],
            Accesses =
            [
                new FleetAccess { Slug = "here", Name = "Dam Road access", Water = "Copperline Reservoir", Host = Agency, Latitude = 44.41, Longitude = -115.31 },
                new FleetAccess { Slug = "elsewhere", Name = "Marina ramp", Water = "Copperline Reservoir", Host = Agency, Latitude = 44.43, Longitude = -115.29 },
            ],
            Stations =
            [
                new FleetStation
                {
                    Code = Code,
                    Portable = isPortable,
                    Owner = Agency,
                    Created = created,
                    Tools = [.. Tools.Select(tool => new FleetTool(tool.Slug, tool.Kind, $"{tool.Slug[..1].ToUpperInvariant()}{tool.Slug[1..]}"))],
                    Tanks = [tank],
                    Power = [new FleetPower(BatteryChemistry.Agm, ampereHours, PanelWatts: Math.Round(panel * dice.Between(0.8, 1.2)))],
                    Placements = [new FleetPlacement("here", created)],
                },
            ],
            Simulation = new FleetSimulation
            {
                Seed = season.Seed,
                World = world,
                BaseLoadWatts = Math.Round(dice.Between(6, 9), 1),
                BoatsPerDay = new Dictionary<string, double> { ["here"] = QualitySeeds.BoatsPerDay(season.Level) },
                Tools = Tools.ToDictionary(
                    tool => $"{Code}/{tool.Slug}",
                    tool => new SimulatedToolUse(tool.Share, tool.Kind == ToolKind.Vacuum ? LitresPerVacuumBoat : null)),
                Faults = [.. Faults(season, created)],
                Visits = [.. Inspections(season, created)],
            },
        };
    }

    // A drum, two drums, a tote; battery and panel to match the work.
    private static (double CapacityLitres, double AmpereHours, double PanelWatts) SizeOf(TrafficLevel level) => level switch
    {
        TrafficLevel.Quiet => (208.2, 100, 100),
        TrafficLevel.Middling => (416.4, 130, 130),
        _ => (1041, 220, 230),
    };

    // In half of the seasons somebody looks after the station about every third week, and tries each tool twice.
    private static IEnumerable<PlannedVisit> Inspections(QualitySeason season, DateTimeOffset created)
    {
        Dice dice = Dice.For(season.Seed, "quality/inspections");
        bool comes = dice.Chance(0.5);
        for (double day = dice.Between(8, 20); comes && day < 195; day += Math.Floor(dice.Between(17, 26)))
        {
            DateTimeOffset at = created.AddDays(Math.Floor(day)).AddMinutes(Math.Floor(60 * dice.Between(9, 15)));
            yield return new PlannedVisit(Code, at, Note: "Looked after the station.") { TestUses = 2 };
        }
    }

    /// <summary>Whether nothing goes wrong in a season.</summary>
    /// <param name="season">The season.</param>
    public static bool IsHealthy(QualitySeason season) => season.Number % 3 == 0;

    private static int Faulty(QualitySeason season) => season.Number - (season.Number / 3) - 1;

    // Each block of twenty holds each kind once, and beside another tool than in the block before.
    private static int OtherFault(QualitySeason season) =>
        IsHealthy(season) ? -1 : ((7 * Faulty(season)) + (Faulty(season) / KindsOfOtherFaults)) % KindsOfOtherFaults;

    private static IEnumerable<PlannedFault> Faults(QualitySeason season, DateTimeOffset created)
    {
        if (IsHealthy(season))
        {
            yield break;
        }

        Dice dice = Dice.For(season.Seed, "quality/faults");
        DateTimeOffset From() => created.AddMinutes(Math.Floor(24 * 60 * dice.Between(30, 150)));
        PlannedFault tool = ToolFault(Tools[Faulty(season) % Tools.Count], From(), dice);
        PlannedFault other = Other(OtherFault(season), SizeOf(season.Level).CapacityLitres, From(), dice);
        yield return other;

        // While nobody can use the station at all, a dead tool is no news.
        if (other.Kind is not (FaultKind.StationUnused or FaultKind.AccessClosed or FaultKind.PortableMoved))
        {
            yield return tool;
        }
    }

    private static PlannedFault ToolFault((string Slug, ToolKind Kind, double Share) tool, DateTimeOffset from, Dice dice)
    {
        bool isOfHand = tool.Kind is ToolKind.Wrench or ToolKind.Brush or ToolKind.Grabber;
        return dice.Next() switch
        {
            < 0.12 => new PlannedFault(FaultKind.ToolWeak, Code, from, Tool: tool.Slug) { KeptShare = Math.Round(dice.Between(0.2, 0.5), 2) },
            < 0.26 => new PlannedFault(FaultKind.CounterRunaway, Code, from, Tool: tool.Slug) { CountsPerHour = Math.Round(20 * Math.Exp(dice.Between(0, 3.5))) },
            < 0.50 when isOfHand => new PlannedFault(FaultKind.ToolMissing, Code, from, Tool: tool.Slug),
            _ => new PlannedFault(FaultKind.ToolDead, Code, from, Tool: tool.Slug),
        };
    }

    private static PlannedFault Other(int kind, double tankLitres, DateTimeOffset from, Dice dice)
    {
        PlannedFault Fault(FaultKind what, double? days = null) => new(what, Code, from, days is { } d ? from.AddMinutes(Math.Floor(24 * 60 * d)) : null);
        return kind switch
        {
            0 => Fault(FaultKind.TankFrozen),
            1 => Fault(FaultKind.TankDrift) with { DriftSharePerDay = Math.Round(dice.Between(0.01, 0.03), 3) * (dice.Chance(0.5) ? 1 : -1) },
            2 => Fault(FaultKind.TankJumping),
            3 => Fault(FaultKind.TankLeak) with { LitresPerDay = Math.Round(tankLitres * dice.Between(0.02, 0.10), 1) },
            4 => Fault(FaultKind.PanelSoiled) with { Loss = Math.Round(dice.Between(0.25, 0.45), 2) },
            5 => Fault(FaultKind.PanelSoiled) with { LossPerDay = Math.Round(dice.Between(0.25, 0.45) / 30, 4) },
            6 => Fault(FaultKind.PanelShaded) with { Loss = 0.8 },
            7 => Fault(FaultKind.PanelDisconnected),
            8 => Fault(FaultKind.BatteryAged) with { KeptShare = Math.Round(dice.Between(0.3, 0.5), 2) },
            9 => Fault(FaultKind.ExtraLoad) with { Watts = Math.Round(dice.Between(4, 10), 1) },
            10 => Fault(FaultKind.RadioOutage, dice.Between(1, 6)),
            11 => Fault(FaultKind.RadioOutage, dice.Between(1, 6)) with { Lost = true },
            12 => Fault(FaultKind.SiteOutage, dice.Between(1, 5)),
            13 => Fault(FaultKind.ClockJump) with { AheadSeconds = Math.Round(1200 * Math.Exp(dice.Between(0, 5))) },
            14 => Fault(FaultKind.ClockJump) with { AheadSeconds = -Math.Round(1200 * Math.Exp(dice.Between(0, 5.9))) },
            15 => Fault(FaultKind.CounterRestart),
            16 => Fault(FaultKind.CounterRestart) with { KeepsUptime = true },
            17 => Fault(FaultKind.StationUnused),
            18 => Fault(FaultKind.AccessClosed, dice.Between(10, 25)),
            _ => Fault(FaultKind.PortableMoved) with { Access = "elsewhere" },
        };
    }
}
