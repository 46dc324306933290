namespace StationFleet.Domain.Telemetry.LoggerFiles;

/// <summary>Units as people and loggers write them, in SenML's words. SenML has no Fahrenheit, inch or foot: those are converted.</summary>
internal static class LoggerUnits
{
    private static readonly Dictionary<string, (string Symbol, double Multiplier, double Offset)> Words = new(StringComparer.OrdinalIgnoreCase)
    {
        ["percent"] = ("/100", 1, 0), ["%"] = ("/100", 1, 0), ["°C"] = ("Cel", 1, 0), ["degC"] = ("Cel", 1, 0), ["deg C"] = ("Cel", 1, 0), ["C"] = ("Cel", 1, 0),

        // Exact by definition: 9/5 and 32; the inch is 25.4 mm.
        ["°F"] = ("Cel", 5.0 / 9, -32), ["degF"] = ("Cel", 5.0 / 9, -32), ["deg F"] = ("Cel", 5.0 / 9, -32), ["F"] = ("Cel", 5.0 / 9, -32),
        ["in"] = ("m", 0.0254, 0), ["inch"] = ("m", 0.0254, 0), ["inches"] = ("m", 0.0254, 0), ["ft"] = ("m", 0.3048, 0), ["feet"] = ("m", 0.3048, 0),
        ["volt"] = ("V", 1, 0), ["volts"] = ("V", 1, 0), ["amp"] = ("A", 1, 0), ["amps"] = ("A", 1, 0), ["watt"] = ("W", 1, 0), ["watts"] = ("W", 1, 0),
        ["sec"] = ("s", 1, 0), ["seconds"] = ("s", 1, 0), ["hours"] = ("h", 1, 0), ["hr"] = ("h", 1, 0), ["minutes"] = ("min", 1, 0), ["counts"] = ("count", 1, 0),
        ["uses"] = ("count", 1, 0),
    };

    /// <summary>A unit and a value in words that SenML knows; a name that is not in the table of names keeps its value as it is.</summary>
    /// <param name="name">The measurement's name.</param>
    /// <param name="unit">The unit as it is written; empty takes the one of the table.</param>
    /// <param name="value">The value in that unit.</param>
    public static (string? Unit, double Value) InSenml(string name, string? unit, double value)
    {
        string written = unit?.Trim() ?? "";
        if (written.Length == 0)
        {
            return (null, value);
        }

        return Words.TryGetValue(written, out (string Symbol, double Multiplier, double Offset) word)
            && MeasurementTable.Find(name) is { } known && known.Unit != written
            ? (word.Symbol, (value + word.Offset) * word.Multiplier)
            : (written, value);
    }
}
