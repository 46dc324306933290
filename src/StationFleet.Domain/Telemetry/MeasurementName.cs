namespace StationFleet.Domain.Telemetry;

/// <summary>How the values of a series add up over time.</summary>
public enum SeriesKind
{
    /// <summary>A momentary value: a level, a voltage, a temperature.</summary>
    Gauge,

    /// <summary>A running total since the controller started.</summary>
    Counter,
}

/// <summary>The names that reports use, and what is known of each.</summary>
public static class MeasurementName
{
    /// <summary>Share of the tank's capacity, 0 to 1.</summary>
    public const string TankFill = "tank/fill";

    /// <summary>Liquid height above the tank's bottom [m].</summary>
    public const string TankLevel = "tank/level";

    /// <summary>Sensor face to liquid surface [m].</summary>
    public const string TankDistance = "tank/distance";

    /// <summary>Battery voltage [V].</summary>
    public const string BatteryVoltage = "battery/voltage";

    /// <summary>Battery current [A], positive when charging.</summary>
    public const string BatteryCurrent = "battery/current";

    /// <summary>State of charge as a share, 0 to 1.</summary>
    public const string BatteryCharge = "battery/charge";

    /// <summary>Battery temperature [°C].</summary>
    public const string BatteryTemperature = "battery/temperature";

    /// <summary>Air temperature [°C].</summary>
    public const string AirTemperature = "air/temperature";

    /// <summary>Power from the panel [W].</summary>
    public const string SolarPower = "solar/power";

    /// <summary>Power into the station's loads [W].</summary>
    public const string LoadPower = "load/power";

    /// <summary>Latitude, WGS 84 [°].</summary>
    public const string Latitude = "lat";

    /// <summary>Longitude, WGS 84 [°].</summary>
    public const string Longitude = "lon";

    /// <summary>Received radio power [dBW].</summary>
    public const string RadioSignal = "radio/signal";

    /// <summary>Time since the controller started [s].</summary>
    public const string ControllerUptime = "controller/uptime";

    /// <summary>The name of a tool's running total of uses.</summary>
    /// <param name="tool">The tool's slug.</param>
    public static string Uses(string tool) => $"tools/{tool}/uses";

    /// <summary>The name of a tool's running total of time switched on [s].</summary>
    /// <param name="tool">The tool's slug.</param>
    public static string OnTime(string tool) => $"tools/{tool}/on-time";

    /// <summary>The slug of the tool whose uses a name counts, or null when it counts none.</summary>
    /// <param name="name">A measurement's name.</param>
    public static string? ToolOfUses(string name) => Between(name, "tools/", "/uses");

    /// <summary>Whether a text may be a measurement's name (RFC 8428 §4.5.1).</summary>
    /// <param name="text">Any text.</param>
    public static bool IsLawful(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return SenmlResolver.IsName(text);
    }

    /// <summary>Whether a name is a running total or a momentary value.</summary>
    /// <param name="name">A measurement's name.</param>
    public static SeriesKind KindOf(string name) =>
        ToolOfUses(name) is not null || Between(name, "tools/", "/on-time") is not null ? SeriesKind.Counter : SeriesKind.Gauge;

    private static string? Between(string name, string head, string tail)
    {
        ArgumentNullException.ThrowIfNull(name);
        if (name.Length <= head.Length + tail.Length
            || !name.StartsWith(head, StringComparison.Ordinal)
            || !name.EndsWith(tail, StringComparison.Ordinal))
        {
            return null;
        }

        string middle = name[head.Length..^tail.Length];
        return middle.Contains('/', StringComparison.Ordinal) ? null : middle;
    }
}
