namespace StationFleet.Domain.Quantities;

/// <summary>The system of units that people read; everything inside is SI.</summary>
public enum UnitSystem
{
    /// <summary>Gallons, feet, pounds, degrees Fahrenheit.</summary>
    UsCustomary,

    /// <summary>Litres, metres, kilograms, degrees Celsius.</summary>
    Metric,
}

/// <summary>Conversions between SI and what people read.</summary>
public static class Units
{
    /// <summary>Litres in one US gallon, exactly: 231 cubic inches of 2.54 cm.</summary>
    public const double LitresPerUsGallon = 3.785411784;

    /// <summary>Kilograms in one avoirdupois pound, exactly.</summary>
    public const double KilogramsPerPound = 0.45359237;

    /// <summary>A volume as people read it, without its unit.</summary>
    /// <param name="litres">Litres.</param>
    /// <param name="system">The reader's units.</param>
    /// <returns>US gallons or litres.</returns>
    public static double VolumeFor(double litres, UnitSystem system) =>
        system == UnitSystem.UsCustomary ? litres / LitresPerUsGallon : litres;

    /// <summary>A volume that a person typed, in litres.</summary>
    /// <param name="amount">US gallons or litres.</param>
    /// <param name="system">The writer's units.</param>
    /// <returns>Litres.</returns>
    public static double LitresFrom(double amount, UnitSystem system) =>
        system == UnitSystem.UsCustomary ? amount * LitresPerUsGallon : amount;

    /// <summary>The short name of the volume unit: gal or L.</summary>
    /// <param name="system">The reader's units.</param>
    public static string VolumeUnit(UnitSystem system) => system == UnitSystem.UsCustomary ? "gal" : "L";

    /// <summary>The mass of fresh water, for lifting cautions: one kilogram a litre.</summary>
    /// <param name="litres">Litres of water.</param>
    /// <param name="system">The reader's units.</param>
    /// <returns>Pounds or kilograms.</returns>
    public static double WaterMassFor(double litres, UnitSystem system) =>
        system == UnitSystem.UsCustomary ? litres / KilogramsPerPound : litres;

    /// <summary>The short name of the mass unit: lb or kg.</summary>
    /// <param name="system">The reader's units.</param>
    public static string MassUnit(UnitSystem system) => system == UnitSystem.UsCustomary ? "lb" : "kg";

    /// <summary>Metres in one inch, exactly.</summary>
    public const double MetresPerInch = 0.0254;

    /// <summary>Metres in one foot, exactly.</summary>
    public const double MetresPerFoot = 12 * MetresPerInch;

    /// <summary>Metres in one statute mile, exactly.</summary>
    public const double MetresPerMile = 5280 * MetresPerFoot;

    /// <summary>A height of a tank as people read it, without its unit.</summary>
    /// <param name="metres">Metres.</param>
    /// <param name="system">The reader's units.</param>
    /// <returns>Inches or metres.</returns>
    public static double HeightFor(double metres, UnitSystem system) =>
        system == UnitSystem.UsCustomary ? metres / MetresPerInch : metres;

    /// <summary>A height that a person typed, in metres.</summary>
    /// <param name="amount">Inches or metres.</param>
    /// <param name="system">The writer's units.</param>
    /// <returns>Metres.</returns>
    public static double MetresFrom(double amount, UnitSystem system) =>
        system == UnitSystem.UsCustomary ? amount * MetresPerInch : amount;

    /// <summary>The short name of the height unit: in or m.</summary>
    /// <param name="system">The reader's units.</param>
    public static string HeightUnit(UnitSystem system) => system == UnitSystem.UsCustomary ? "in" : "m";

    /// <summary>A temperature as people read it, without its unit.</summary>
    /// <param name="celsius">Degrees Celsius.</param>
    /// <param name="system">The reader's units.</param>
    /// <returns>Degrees Fahrenheit or Celsius.</returns>
    public static double TemperatureFor(double celsius, UnitSystem system) => system == UnitSystem.UsCustomary ? (celsius * 9 / 5) + 32 : celsius;

    /// <summary>A temperature that a person typed, in degrees Celsius.</summary>
    /// <param name="degrees">Degrees Fahrenheit or Celsius.</param>
    /// <param name="system">The writer's units.</param>
    public static double CelsiusFrom(double degrees, UnitSystem system) => system == UnitSystem.UsCustomary ? (degrees - 32) * 5 / 9 : degrees;

    /// <summary>The short name of the temperature unit: °F or °C.</summary>
    /// <param name="system">The reader's units.</param>
    public static string TemperatureUnit(UnitSystem system) => system == UnitSystem.UsCustomary ? "°F" : "°C";
}
