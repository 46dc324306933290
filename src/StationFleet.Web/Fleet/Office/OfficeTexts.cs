using System.Globalization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;
using StationFleet.Domain.Quantities;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Words and figures as the Office's tables and forms write them.</summary>
internal static class OfficeTexts
{
    private static readonly string[] SmallNumbers =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

    public static string Of(ToolKind kind) => kind switch
    {
        ToolKind.Vacuum => "Vacuum",
        ToolKind.Grabber => "Grabber",
        ToolKind.Wrench => "Wrench",
        ToolKind.Brush => "Brush",
        ToolKind.Blower => "Blower",
        ToolKind.Other => "Other",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "An unknown kind of tool."),
    };

    public static string Of(BatteryChemistry chemistry) => chemistry switch
    {
        BatteryChemistry.FloodedLeadAcid => "Flooded lead-acid",
        BatteryChemistry.Agm => "AGM lead-acid",
        BatteryChemistry.LithiumIronPhosphate => "Lithium iron phosphate",
        _ => throw new ArgumentOutOfRangeException(nameof(chemistry), chemistry, "An unknown chemistry."),
    };

    public static string Of(RestVoltageTable table) => table switch
    {
        RestVoltageTable.FloodedInverterManual => "Flooded: an inverter's manual",
        RestVoltageTable.FloodedMaker => "Flooded: a battery maker",
        RestVoltageTable.FloodedDeepCycle => "Flooded, deep-cycle: the widely copied table",
        RestVoltageTable.AgmMaker => "AGM: a battery maker",
        _ => throw new ArgumentOutOfRangeException(nameof(table), table, "An unknown table."),
    };

    public static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    /// <summary>A length to a tenth of a millimetre or so: no digit that matters is lost when its field is saved again.</summary>
    public static string Height(double value, UnitSystem units) =>
        units == UnitSystem.UsCustomary ? Number(value) : value.ToString("0.####", CultureInfo.InvariantCulture);

    public static string Tenths(double value) => value.ToString("#,##0.#", CultureInfo.InvariantCulture);

    public static string NumberOrNothing(double? value) => value is { } number ? Number(number) : "";

    /// <summary>«no stations», «one station», «seven stations», «14 stations».</summary>
    public static string Count(int count, string one, string many) => count == 1 ? $"one {one}" : $"{Spelled(count)} {many}";

    /// <summary>As <see cref="Count"/>, for the start of a sentence.</summary>
    public static string CountFirst(int count, string one, string many)
    {
        string words = Count(count, one, many);
        return char.ToUpperInvariant(words[0]) + words[1..];
    }

    /// <summary>A small number as a word.</summary>
    public static string Spelled(int count) =>
        count >= 0 && count < SmallNumbers.Length ? SmallNumbers[count] : count.ToString(CultureInfo.InvariantCulture);
}
