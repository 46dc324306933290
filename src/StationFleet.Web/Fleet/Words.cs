using System.Globalization;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;

namespace StationFleet.Web.Fleet;

/// <summary>The words that pages use for what the domain knows as codes.</summary>
internal static class Words
{
    public static string Of(StationCondition condition) => condition switch
    {
        StationCondition.Working => "Working",
        StationCondition.DueSoon => "Due soon",
        StationCondition.NeedsVisit => "Needs a visit",
        StationCondition.NotReporting => "Not reporting",
        StationCondition.InTransit => "In transit",
        StationCondition.AccessClosed => "Access closed",
        StationCondition.Winterized => "Winterized",
        _ => throw new ArgumentOutOfRangeException(nameof(condition), condition, "An unknown condition."),
    };

    /// <summary>A measured value with its unit as people write it: shares in percent, degrees with their sign, counts bare.</summary>
    public static string Of(string name, double value) => MeasurementTable.Find(name)?.Unit switch
    {
        "/" => NumberWords.Percent(value),
        "count" => NumberWords.Figures(value),
        "Cel" => $"{Plain(value)} °C",
        "lat" or "lon" => $"{value.ToString("0.0000", CultureInfo.InvariantCulture)}°",
        "s" => TimeWords.Length(TimeSpan.FromSeconds(value)),
        { } unit => $"{Plain(value)} {unit}",
        null => Plain(value),
    };

    private static string Plain(double value) => value.ToString("#,##0.##", CultureInfo.InvariantCulture);
}
