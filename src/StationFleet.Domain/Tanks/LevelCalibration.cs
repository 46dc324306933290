namespace StationFleet.Domain.Tanks;

/// <summary>A sensor's reading, and what was true then.</summary>
/// <param name="Raw">What the sensor said, in its measurement's canonical unit.</param>
/// <param name="True">What a person measured: liquid height [m]; for <c>tank/fill</c> the share of capacity.</param>
public readonly record struct CalibrationPoint(double Raw, double True);

/// <summary>Two readings of a level sensor set right by a person, from an instant on; older readings keep what held before.</summary>
/// <param name="Name">The measurement that it corrects: one of the <c>tank/…</c> names.</param>
/// <param name="From">The first instant; it holds until the next calibration of that measurement or the next tank.</param>
/// <param name="Low">One point.</param>
/// <param name="High">The other; its raw reading differs.</param>
/// <param name="AirTempC">The air's temperature at the calibration [°C], for distance sensors; null when not noted.</param>
/// <remarks>
/// A straight line through both points. A distance becomes a level without the sensor's height, since the calibration holds it.
/// </remarks>
public sealed record LevelCalibration(string Name, DateTimeOffset From, CalibrationPoint Low, CalibrationPoint High, double? AirTempC = null)
{
    private double Slope => (High.True - Low.True) / (High.Raw - Low.Raw);

    /// <summary>What is true when the sensor says something.</summary>
    /// <param name="raw">What it says.</param>
    public double TrueOf(double raw) => Low.True + (Slope * (raw - Low.Raw));

    /// <summary>What the sensor says when something is true.</summary>
    /// <param name="truth">What is true.</param>
    public double RawOf(double truth) => Low.Raw + ((truth - Low.True) / Slope);

    /// <summary>What cannot be about it, in a sentence; null when it is sound.</summary>
    public string? Fault() => (TankReading.Names.Contains(Name), High.Raw - Low.Raw, High.True - Low.True) switch
    {
        (false, _, _) => $"There is no tank measurement '{Name}'.",
        (_, 0, _) => "The two readings of the sensor are the same: they make no line.",
        (_, _, 0) => "The two true levels are the same: they make no line.",
        (_, var raw, var truth) when (raw * truth > 0) == (Name == Telemetry.MeasurementName.TankDistance) =>
            Name == Telemetry.MeasurementName.TankDistance
                ? "A distance falls while the liquid rises: are the two levels swapped?"
                : "The reading must rise with the liquid: are the two levels swapped?",
        _ => null,
    };
}
