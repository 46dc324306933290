using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Tanks;

/// <summary>What a tank's sensor said, as it was sent: litres are made of it whenever they are needed.</summary>
/// <param name="Name">One of the <c>tank/…</c> names.</param>
/// <param name="At">When it was measured.</param>
/// <param name="Value">Its value, in the name's canonical unit.</param>
/// <param name="AirTempC">The air's temperature then [°C], for sensors that time an echo; null when not known.</param>
public sealed record TankReading(string Name, DateTimeOffset At, double Value, double? AirTempC = null)
{
    /// <summary>The names of tank measurements, the most direct one first.</summary>
    public static IReadOnlyList<string> Names { get; } = [MeasurementName.TankFill, MeasurementName.TankLevel, MeasurementName.TankDistance];

    /// <summary>The names that are needed to make litres: the tank's, and the air's temperature.</summary>
    public static IReadOnlyList<string> NeededNames { get; } = [.. Names, MeasurementName.AirTemperature];

    /// <summary>An air temperature measured this long before or after a tank reading still speaks for it (our choice, no source).</summary>
    public static readonly TimeSpan AirTempGoodFor = TimeSpan.FromHours(2);

    /// <summary>The tank readings among measurements, the most direct sensor first, each with the air temperature of its time.</summary>
    /// <param name="measurements">Measurements of about one time, each name once.</param>
    public static IEnumerable<TankReading> Among(IReadOnlyCollection<Measurement> measurements)
    {
        ArgumentNullException.ThrowIfNull(measurements);
        return
            from name in Names
            from measurement in measurements
            where measurement.Name == name
            select new TankReading(name, measurement.At, measurement.Value, AirTempAt(measurement.At, measurements));
    }

    private static double? AirTempAt(DateTimeOffset at, IEnumerable<Measurement> measurements) => measurements
        .Where(measurement => measurement.Name == MeasurementName.AirTemperature && (measurement.At - at).Duration() <= AirTempGoodFor)
        .Select(measurement => (double?)measurement.Value).FirstOrDefault();
}

/// <summary>What a tank holds.</summary>
/// <param name="Litres">The volume [L]; 0 or more.</param>
/// <param name="CapacityLitres">What counts as full [L].</param>
/// <param name="LevelM">The liquid's height [m]; null when the shape is not known.</param>
public sealed record TankAmount(double Litres, double CapacityLitres, double? LevelM)
{
    /// <summary>Share of capacity, 0 or more; a tank filled past its capacity gives more than 1.</summary>
    public double Share => Litres / CapacityLitres;
}
