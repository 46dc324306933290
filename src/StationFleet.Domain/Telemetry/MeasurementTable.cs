using System.Globalization;

namespace StationFleet.Domain.Telemetry;

/// <summary>A unit that a record may state instead of the table's, and how it becomes the table's.</summary>
/// <param name="Symbol">The unit's symbol in SenML.</param>
/// <param name="Multiplier">Multiplied first.</param>
/// <param name="Divisor">Divided by second; a divisor of 100 keeps 57 % at 0.57, which a factor of 0.01 does not.</param>
/// <param name="Offset">Added last.</param>
/// <param name="IsSecondary">A secondary unit of RFC 8798: lawful only in packs of version 26 (RFC 9100).</param>
public sealed record OtherUnit(string Symbol, double Multiplier, double Divisor, double Offset, bool IsSecondary);

/// <summary>One line of the table of names.</summary>
/// <param name="Pattern">The name; <c>{tool}</c> stands for any tool's slug.</param>
/// <param name="Unit">The unit in which its values are stored, as a SenML symbol.</param>
/// <param name="Others">Other units that are taken and converted.</param>
/// <param name="Least">The least value that can be.</param>
/// <param name="Most">The greatest value that can be.</param>
/// <param name="Meaning">What it measures, in a few words for the person who programs the station.</param>
public sealed record KnownName(string Pattern, string Unit, IReadOnlyList<OtherUnit> Others, double Least, double Most, string Meaning);

/// <summary>A value in the table's unit, or why it cannot be one.</summary>
public abstract record TableValue
{
    private TableValue()
    {
    }

    /// <summary>The value in the unit in which its name is stored.</summary>
    /// <param name="Value">The value; finite.</param>
    public sealed record Canonical(double Value) : TableValue;

    /// <summary>The value contradicts the table.</summary>
    /// <param name="Kind">Whether it is the unit or the value.</param>
    /// <param name="Reason">One sentence for the person who programs the station.</param>
    public sealed record Refused(SetAsideKind Kind, string Reason) : TableValue;
}

/// <summary>
/// The names that stations use, with their units (symbols: RFC 8428 §12.1; secondary ones: RFC 8798) and what values can be.
/// </summary>
public static class MeasurementTable
{
    private const string AnyUses = "tools/{tool}/uses";
    private const string AnyOnTime = "tools/{tool}/on-time";

    private static readonly OtherUnit[] OtherShares = [Primary("%", 1, 1), Secondary("/100", 1, 100), Secondary("/1000", 1, 1000)];
    private static readonly OtherUnit[] OtherLengths = [Secondary("mm", 1, 1000), Secondary("cm", 1, 100), Secondary("km", 1000, 1)];
    private static readonly OtherUnit[] OtherTimes = [Secondary("ms", 1, 1000), Secondary("min", 60, 1), Secondary("h", 3600, 1)];
    private static readonly OtherUnit[] OtherPowers = [Secondary("kW", 1000, 1)];
    private static readonly OtherUnit[] OtherTemperatures = [Primary("K", 1, 1, -273.15)];

    private static readonly Dictionary<string, KnownName> ByName =
        Names().ToDictionary(known => known.Pattern, StringComparer.Ordinal);

    /// <summary>All lines of the table.</summary>
    public static IReadOnlyCollection<KnownName> All => ByName.Values;

    /// <summary>The line of a name, or null when the table does not have it.</summary>
    /// <param name="name">A measurement's name, without the base name.</param>
    public static KnownName? Find(string name)
    {
        string pattern = MeasurementName.ToolOfUses(name) is not null ? AnyUses
            : MeasurementName.KindOf(name) == SeriesKind.Counter ? AnyOnTime
            : name;
        return ByName.GetValueOrDefault(pattern);
    }

    /// <summary>A value in the unit in which its name is stored. A name that is not in the table keeps its value as it is.</summary>
    /// <param name="name">The measurement's name, without the base name.</param>
    /// <param name="unit">The unit it states; null takes the table's.</param>
    /// <param name="value">The value in that unit.</param>
    /// <param name="allowsSecondaryUnits">Whether secondary units may be used.</param>
    public static TableValue ToCanonical(string name, string? unit, double value, bool allowsSecondaryUnits)
    {
        if (!double.IsFinite(value))
        {
            return new TableValue.Refused(SetAsideKind.Impossible, "Its value is not a finite number.");
        }

        if (Find(name) is not { } known)
        {
            return new TableValue.Canonical(value);
        }

        OtherUnit? other = known.Others.FirstOrDefault(candidate => candidate.Symbol == unit);
        if (unit is not null && unit != known.Unit && other is null)
        {
            return new TableValue.Refused(
                SetAsideKind.Unit, $"The unit '{Excerpt.Of(unit, 20)}' does not fit {name}, which is measured in '{known.Unit}'.");
        }

        if (other is { IsSecondary: true } && !allowsSecondaryUnits)
        {
            return new TableValue.Refused(
                SetAsideKind.Unit,
                $"The unit '{other.Symbol}' may only be used in packs of version 26 (RFC 9100); send '{known.Unit}', or \"bver\": 26.");
        }

        double canonical = other is null ? value : value * other.Multiplier / other.Divisor + other.Offset;
        return known.Least <= canonical && canonical <= known.Most && double.IsFinite(canonical)
            ? new TableValue.Canonical(canonical)
            : new TableValue.Refused(SetAsideKind.Impossible, OutOfRange(known, name, unit, value));
    }

    private static string OutOfRange(KnownName known, string name, string? unit, double value)
    {
        string range = (double.IsFinite(known.Least), double.IsFinite(known.Most)) switch
        {
            (true, true) => Invariant($"from {known.Least} to {known.Most}"),
            (true, false) => Invariant($"at least {known.Least}"),
            (false, true) => Invariant($"at most {known.Most}"),
            _ => "any finite number",
        };
        string hint = unit == "%" ? " ('%' is a share from 0 to 1 in SenML, like '/')" : "";
        return Invariant($"{value} {unit ?? known.Unit}{hint} is not possible for {name}: in '{known.Unit}' it is {range}.");
    }

    private static KnownName[] Names() =>
    [
        new(AnyUses, "count", [], 0, double.PositiveInfinity, "running total of this tool's uses"),
        new(AnyOnTime, "s", OtherTimes, 0, double.PositiveInfinity, "running total of the time this tool was on"),
        // A level sensor errs a little below empty and above full.
        new(MeasurementName.TankFill, "/", OtherShares, -0.05, 1.2, "share of the waste tank that is full"),
        Free(MeasurementName.TankLevel, "m", OtherLengths, "height of the liquid above the tank's bottom"),
        Free(MeasurementName.TankDistance, "m", OtherLengths, "from the sensor's face down to the liquid"),
        Free(MeasurementName.BatteryVoltage, "V", [Secondary("mV", 1, 1000)], "battery voltage"),
        Free(MeasurementName.BatteryCurrent, "A", [Secondary("mA", 1, 1000)], "battery current, positive while charging"),
        new(MeasurementName.BatteryCharge, "/", [Primary("%EL", 1, 100), .. OtherShares], 0, 1, "state of charge"),
        Free(MeasurementName.BatteryTemperature, "Cel", OtherTemperatures, "battery temperature"),
        Free(MeasurementName.AirTemperature, "Cel", OtherTemperatures, "air temperature"),
        Free(MeasurementName.SolarPower, "W", OtherPowers, "power from the panel"),
        Free(MeasurementName.LoadPower, "W", OtherPowers, "power into the station's loads"),
        new(MeasurementName.Latitude, "lat", [], -90, 90, "latitude, WGS 84"),
        new(MeasurementName.Longitude, "lon", [], -180, 180, "longitude, WGS 84"),
        Free(MeasurementName.RadioSignal, "dBW", [Secondary("dBm", 1, 1, -30)], "received radio power"),
        new(MeasurementName.ControllerUptime, "s", OtherTimes, 0, double.PositiveInfinity, "time since the controller started"),
    ];

    private static KnownName Free(string name, string unit, OtherUnit[] others, string meaning) =>
        new(name, unit, others, double.NegativeInfinity, double.PositiveInfinity, meaning);

    private static OtherUnit Primary(string symbol, double multiplier, double divisor, double offset = 0) =>
        new(symbol, multiplier, divisor, offset, IsSecondary: false);

    private static OtherUnit Secondary(string symbol, double multiplier, double divisor, double offset = 0) =>
        new(symbol, multiplier, divisor, offset, IsSecondary: true);

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
