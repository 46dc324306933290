using System.Text.Json;
using System.Text.Json.Serialization;
using StationFleet.Domain.Power;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Fleet;

/// <summary>A whole fleet as one JSON document: for the demo, for the simulator and for a trial. Its schema is docs/fleet-file.schema.json.</summary>
public sealed record FleetFile
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        NumberHandling = JsonNumberHandling.Strict,
        AllowTrailingCommas = true,
        AllowOutOfOrderMetadataProperties = true,
        ReadCommentHandling = JsonCommentHandling.Skip,
        RespectNullableAnnotations = true,
        RespectRequiredConstructorParameters = true,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
    };

    /// <summary>Where the schema lies; for editors.</summary>
    [JsonPropertyName("$schema")]
    public string? Schema { get; init; }

    /// <summary>The name of the body that runs the fleet.</summary>
    public required string Name { get; init; }

    /// <summary>A sentence printed on what leaves the program, such as that all data are invented.</summary>
    public string? Notice { get; init; }

    /// <summary>The fleet's own time zone, an IANA id; decides days where no access does.</summary>
    public required string TimeZone { get; init; }

    /// <summary>The units that people read.</summary>
    public UnitSystem Units { get; init; }

    /// <summary>The seasons, in order.</summary>
    public IReadOnlyList<FleetSeason> Seasons { get; init; } = [];

    /// <summary>The agencies that own, run and host.</summary>
    public required IReadOnlyList<FleetAgency> Agencies { get; init; }

    /// <summary>Who signs in.</summary>
    public IReadOnlyList<FleetPerson> People { get; init; } = [];

    /// <summary>The public accesses.</summary>
    public required IReadOnlyList<FleetAccess> Accesses { get; init; }

    /// <summary>Where days on the road start and end.</summary>
    public IReadOnlyList<FleetYard> Yards { get; init; } = [];

    /// <summary>Days that are known to bring more boats, or fewer.</summary>
    public IReadOnlyList<FleetKnownDays> KnownDays { get; init; } = [];

    /// <summary>The stations.</summary>
    public required IReadOnlyList<FleetStation> Stations { get; init; }

    /// <summary>What the simulator needs to know beside it; null when the fleet is real.</summary>
    public FleetSimulation? Simulation { get; init; }

    /// <summary>The fleet's time zone.</summary>
    [JsonIgnore]
    public TimeZoneInfo Zone => TimeZoneInfo.FindSystemTimeZoneById(TimeZone);

    /// <summary>Reads and checks a fleet file.</summary>
    /// <param name="json">The document.</param>
    /// <returns>The fleet, or what is wrong with the document.</returns>
    public static FleetFileReading Parse(string json)
    {
        ArgumentNullException.ThrowIfNull(json);
        FleetFile? fleet;
        try
        {
            fleet = JsonSerializer.Deserialize<FleetFile>(json, Options);
        }
        catch (JsonException failure)
        {
            return new FleetFileReading.Refused([Sentence(failure)]);
        }

        if (fleet is null)
        {
            return new FleetFileReading.Refused(["The fleet file holds null instead of a fleet."]);
        }

        IReadOnlyList<string> faults = FleetFileCheck.FaultsOf(fleet);
        return faults.Count == 0 ? new FleetFileReading.Read(fleet) : new FleetFileReading.Refused(faults);
    }

    private static string Sentence(JsonException failure)
    {
        // The serializer's own words name types of ours; the place is what the writer of the file needs.
        string place = failure.Path is { Length: > 1 } path ? $" at {path[2..]}" : "";
        string line = failure.LineNumber is { } number ? $", line {number + 1}" : "";
        string missing = failure.Message.Contains("missing required", StringComparison.Ordinal)
            ? $" {failure.Message[failure.Message.IndexOf("including", StringComparison.Ordinal)..].Replace("including", "lacks", StringComparison.Ordinal).Split(" Path:", 2)[0]}"
            : " has a wrong value, an unknown property or broken JSON";
        return $"The fleet file{place}{line}{missing}".TrimEnd('.', ' ') + ".";
    }
}

/// <summary>What came of reading a fleet file.</summary>
public abstract record FleetFileReading
{
    private FleetFileReading()
    {
    }

    /// <summary>The file is sound.</summary>
    /// <param name="Fleet">The fleet that it describes.</param>
    public sealed record Read(FleetFile Fleet) : FleetFileReading;

    /// <summary>The file cannot be used.</summary>
    /// <param name="Faults">One sentence for each fault, at least one.</param>
    public sealed record Refused(IReadOnlyList<string> Faults) : FleetFileReading;
}

/// <summary>A season, both days inside.</summary>
/// <param name="Name">What people call it, such as <c>2026</c>.</param>
/// <param name="From">Its first day.</param>
/// <param name="To">Its last day.</param>
public sealed record FleetSeason(string Name, DateOnly From, DateOnly To);

/// <summary>An agency.</summary>
/// <param name="Name">Its name.</param>
public sealed record FleetAgency(string Name);

/// <summary>A person who signs in.</summary>
/// <param name="Name">How pages and mails call the person.</param>
/// <param name="Email">Where mail goes, and the name to sign in with.</param>
/// <param name="Role">One of Biologist, Technician, Supervisor, Administrator, Steward.</param>
public sealed record FleetPerson(string Name, string Email, string Role);

/// <summary>A public access.</summary>
public sealed record FleetAccess
{
    /// <summary>Its name in addresses: lower-case letters, digits and hyphens.</summary>
    public required string Slug { get; init; }

    /// <summary>Its name.</summary>
    public required string Name { get; init; }

    /// <summary>The water it leads to.</summary>
    public required string Water { get; init; }

    /// <summary>The agency that hosts stations there.</summary>
    public required string Host { get; init; }

    /// <summary>Its IANA time zone; null takes the fleet's.</summary>
    public string? TimeZone { get; init; }

    /// <summary>WGS 84 latitude [°].</summary>
    public required double Latitude { get; init; }

    /// <summary>WGS 84 longitude [°], east positive.</summary>
    public required double Longitude { get; init; }

    /// <summary>When it was closed.</summary>
    public IReadOnlyList<FleetClosure> Closures { get; init; } = [];
}

/// <summary>A stretch of time in which an access is closed.</summary>
/// <param name="From">Its first instant.</param>
/// <param name="To">The first instant after it; null while it lasts.</param>
/// <param name="Reason">Why, in words.</param>
public sealed record FleetClosure(DateTimeOffset From, DateTimeOffset? To, string Reason);

/// <summary>A station.</summary>
public sealed record FleetStation
{
    /// <summary>Its code, also its base name in reports.</summary>
    public required string Code { get; init; }

    /// <summary>Whether it is moved between accesses.</summary>
    public bool Portable { get; init; }

    /// <summary>The agency that owns it.</summary>
    public required string Owner { get; init; }

    /// <summary>The agency that runs it; null takes the owner.</summary>
    public string? Operator { get; init; }

    /// <summary>From when it exists.</summary>
    public required DateTimeOffset Created { get; init; }

    /// <summary>How often it is meant to report [min].</summary>
    public int ReportEveryMinutes { get; init; } = 15;

    /// <summary>Its tools.</summary>
    public required IReadOnlyList<FleetTool> Tools { get; init; }

    /// <summary>Its waste tanks, each until the next.</summary>
    public IReadOnlyList<FleetTank> Tanks { get; init; } = [];

    /// <summary>The calibrations of its tank's sensors.</summary>
    public IReadOnlyList<FleetCalibration> Calibrations { get; init; } = [];

    /// <summary>Its tanks and their calibrations.</summary>
    [JsonIgnore]
    public TankHistory TankHistory => new(
        [.. Tanks.Select(tank => new DatedTank((tank.From ?? Created).ToUniversalTime(), tank.ToSetup()))],
        [.. Calibrations.Select(calibration => calibration.ToCalibration())]);

    /// <summary>Its batteries and panels, each until the next.</summary>
    public IReadOnlyList<FleetPower> Power { get; init; } = [];

    /// <summary>Where it stood and stands.</summary>
    public required IReadOnlyList<FleetPlacement> Placements { get; init; }

    /// <summary>When it was laid up.</summary>
    public IReadOnlyList<FleetPeriod> Winter { get; init; } = [];

    /// <summary>The limits of the watch; null takes the defaults.</summary>
    public RuleSettings? Rules { get; init; }
}

/// <summary>Days that are known to bring more boats than usual, or fewer.</summary>
/// <param name="Name">What it is: a holiday, a tournament.</param>
/// <param name="First">Its first local day.</param>
/// <param name="Factor">How many times the usual sessions are expected; above 0.</param>
/// <param name="Last">Its last local day; null: one day.</param>
/// <param name="Access">The access that it concerns; null: all of them.</param>
public sealed record FleetKnownDays(string Name, DateOnly First, double Factor, DateOnly? Last = null, string? Access = null);

/// <summary>A place where days on the road start and end.</summary>
/// <param name="Name">How people call it.</param>
/// <param name="Latitude">WGS 84 latitude [°].</param>
/// <param name="Longitude">WGS 84 longitude [°].</param>
public sealed record FleetYard(string Name, double Latitude, double Longitude);

/// <summary>A tool on a station.</summary>
/// <param name="Slug">Its name in reports.</param>
/// <param name="Kind">What it is for.</param>
/// <param name="Name">The name the agency gave it.</param>
/// <param name="Installed">From when it hangs there; null takes the station's beginning.</param>
/// <param name="Removed">When it was taken off for good; null while it hangs there.</param>
/// <param name="IdleAfterDays">A plain limit beside the statistics: idle after so many days without a use [d]; null: none.</param>
/// <param name="UsesWrapAt">The number at which its running total of uses goes back to nought; null when it has no such end.</param>
public sealed record FleetTool(
    string Slug,
    ToolKind Kind,
    string Name,
    DateTimeOffset? Installed = null,
    DateTimeOffset? Removed = null,
    double? IdleAfterDays = null,
    double? UsesWrapAt = null);

/// <summary>A waste tank from an instant on.</summary>
/// <param name="CapacityLitres">Volume that counts as full [L].</param>
/// <param name="From">From when; null takes the station's beginning.</param>
/// <param name="HeightM">Liquid height at capacity [m], for level sensors: short for the shape of an upright, even tank.</param>
/// <param name="SensorHeightM">Sensor face above the bottom [m], for distance sensors.</param>
/// <param name="Shape">The tank's shape, for level sensors.</param>
/// <param name="SensorAssumesC">Air temperature that a distance sensor reckons with [°C]; null when it corrects for it itself.</param>
/// <param name="SensorUncertainty">The sensor's standard uncertainty, as a share of capacity.</param>
public sealed record FleetTank(
    double CapacityLitres,
    DateTimeOffset? From = null,
    double? HeightM = null,
    double? SensorHeightM = null,
    TankShape? Shape = null,
    double? SensorAssumesC = null,
    double SensorUncertainty = TankSetup.UsualSensorUncertainty)
{
    /// <summary>The tank as everything else knows it.</summary>
    public TankSetup ToSetup() => new(CapacityLitres, Shape ?? (HeightM is { } height ? new EvenTank(height, CapacityLitres) : null), SensorHeightM)
    {
        SensorAssumesC = SensorAssumesC, SensorUncertainty = SensorUncertainty,
    };
}

/// <summary>A sensor of the tank set right by two readings, from an instant on.</summary>
/// <param name="Measurement">The measurement that it corrects, such as <c>tank/level</c>.</param>
/// <param name="From">From when; it holds until the next calibration of that measurement or the next tank.</param>
/// <param name="Low">One reading and what was true.</param>
/// <param name="High">The other.</param>
/// <param name="AirTempC">The air's temperature then [°C], for distance sensors; null when not noted.</param>
public sealed record FleetCalibration(
    string Measurement, DateTimeOffset From, CalibrationPoint Low, CalibrationPoint High, double? AirTempC = null)
{
    /// <summary>The calibration as everything else knows it.</summary>
    public LevelCalibration ToCalibration() => new(Measurement, From.ToUniversalTime(), Low, High, AirTempC);
}

/// <summary>A battery and panel from an instant on.</summary>
/// <param name="Chemistry">What the battery is made of.</param>
/// <param name="CapacityAh">Rated capacity [Ah].</param>
/// <param name="PanelWatts">Rated panel power [W].</param>
/// <param name="NominalVolts">Nominal voltage [V].</param>
/// <param name="TiltDeg">Panel tilt from horizontal [°].</param>
/// <param name="AzimuthDeg">Direction that the panel faces, from north through east [°].</param>
/// <param name="From">From when; null takes the station's beginning.</param>
/// <param name="HeightM">Height over the sea [m].</param>
/// <param name="RestTable">Which table tells the charge from a rest voltage; null takes the usual one of the chemistry.</param>
public sealed record FleetPower(
    BatteryChemistry Chemistry,
    double CapacityAh,
    double PanelWatts,
    double NominalVolts = 12,
    double TiltDeg = 45,
    double AzimuthDeg = 180,
    DateTimeOffset? From = null,
    double HeightM = 0,
    RestVoltageTable? RestTable = null);

/// <summary>A station at an access.</summary>
/// <param name="Access">The access's slug.</param>
/// <param name="From">The first instant.</param>
/// <param name="To">The first instant after it; null while it lasts.</param>
public sealed record FleetPlacement(string Access, DateTimeOffset From, DateTimeOffset? To = null);

/// <summary>A stretch of time.</summary>
/// <param name="From">Its first instant.</param>
/// <param name="To">The first instant after it; null while it lasts.</param>
public sealed record FleetPeriod(DateTimeOffset From, DateTimeOffset? To = null);
