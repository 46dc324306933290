using System.Globalization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Words and figures as the Office's tables and forms write them.</summary>
internal static class OfficeTexts
{
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

    public static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    public static string NumberOrNothing(double? value) => value is { } number ? Number(number) : "";

    /// <summary>«one station», «3 stations», «no stations».</summary>
    public static string Count(int count, string one, string many) => count switch
    {
        0 => $"no {many}",
        1 => $"one {one}",
        _ => string.Create(CultureInfo.InvariantCulture, $"{count} {many}"),
    };
}
