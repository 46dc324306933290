namespace StationFleet.Web.Fleet.Office;

/// <summary>The fields of a tank just as they were typed; public, since the form takes them as a parameter.</summary>
public class TankFields
{
    /// <summary>The row to correct; null adds one.</summary>
    public int? Id { get; init; }

    public string From { get; set; } = "";

    /// <summary>In the reader's units, as are the heights.</summary>
    public string Capacity { get; set; } = "";

    /// <summary>One of <see cref="TankShapes"/>; empty when the station sends its fill.</summary>
    public string Shape { get; set; } = "";

    public string Height { get; set; } = "";

    public string Diameter { get; set; } = "";

    public string Length { get; set; } = "";

    public string Width { get; set; } = "";

    /// <summary>A height and a volume on each line.</summary>
    public string Rows { get; set; } = "";

    public string SensorHeight { get; set; } = "";

    /// <summary>In the reader's degrees.</summary>
    public string AssumedTemp { get; set; } = "";

    /// <summary>In percent of capacity.</summary>
    public string Accuracy { get; set; } = "";
}
