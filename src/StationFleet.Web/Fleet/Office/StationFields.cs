using StationFleet.Domain.Fleet;

namespace StationFleet.Web.Fleet.Office;

/// <summary>What a person typed about a station, as it was typed.</summary>
public sealed class StationFields
{
    /// <summary>The station to change; null adds one.</summary>
    public StationId? Id { get; init; }

    public string Code { get; set; } = "";

    public bool IsPortable { get; set; }

    public string Owner { get; set; } = "";

    public string Operator { get; set; } = "";

    public string ReportEveryMinutes { get; set; } = "15";

    public bool HasNoClock { get; set; }

    /// <summary>Local to the zone of <see cref="Access"/>, or to the station's own zone when it is changed.</summary>
    public string Created { get; set; } = "";

    /// <summary>What opens gate and boxes.</summary>
    public string AccessCode { get; set; } = "";

    public string KeyHolders { get; set; } = "";

    /// <summary>Where a new station stands from the start; empty when nowhere yet.</summary>
    public string Access { get; set; } = "";
}
