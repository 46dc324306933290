using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;

namespace StationFleet.Web.Fleet.Office;

/// <summary>The shapes that the Office's form offers, by the names of its choice field.</summary>
internal static class TankShapes
{
    public const string Even = "even";
    public const string Standing = "standing";
    public const string Lying = "lying";
    public const string Box = "box";
    public const string Table = "table";

    public static IReadOnlyList<(string Value, string Words)> All { get; } =
    [
        ("", "Not needed: the station sends its fill"),
        (Standing, "Round, standing: a drum"),
        (Lying, "Round, lying, flat ends"),
        (Box, "Box"),
        (Even, "Upright, any even outline"),
        (Table, "Odd shape: a table of heights and volumes"),
    ];

    public static string Words(TankShape? shape, UnitSystem units)
    {
        return shape switch
        {
            null => "–",
            VerticalCylinder drum => $"standing, ⌀ {Figure(drum.DiameterM)} × {Figure(drum.BrimHeightM)} {Unit()}",
            HorizontalCylinder lying => $"lying, ⌀ {Figure(lying.DiameterM)} × {Figure(lying.LengthM)} {Unit()}",
            BoxTank box => $"box, {Figure(box.LengthM)} × {Figure(box.WidthM)} × {Figure(box.BrimHeightM)} {Unit()}",
            EvenTank even => $"upright, full at {Figure(even.FullHeightM)} {Unit()}",
            StrappingTable table => $"table of {table.Rows.Count} rows",
            _ => throw new ArgumentOutOfRangeException(nameof(shape), shape, "An unknown shape."),
        };

        string Figure(double metres) => OfficeTexts.Number(Units.HeightFor(metres, units));
        string Unit() => Units.HeightUnit(units);
    }
}
