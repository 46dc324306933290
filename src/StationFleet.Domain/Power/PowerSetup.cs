namespace StationFleet.Domain.Power;

/// <summary>What a battery is made of.</summary>
public enum BatteryChemistry
{
    /// <summary>Flooded lead-acid.</summary>
    FloodedLeadAcid,

    /// <summary>Absorbed glass mat lead-acid.</summary>
    Agm,

    /// <summary>Lithium iron phosphate.</summary>
    LithiumIronPhosphate,
}

/// <summary>A station's battery and panel.</summary>
/// <param name="Chemistry">What the battery is made of.</param>
/// <param name="CapacityAh">Rated capacity [Ah].</param>
/// <param name="NominalVolts">Nominal voltage [V].</param>
/// <param name="PanelWatts">Rated panel power [W].</param>
/// <param name="TiltDeg">Panel tilt from horizontal [°].</param>
/// <param name="AzimuthDeg">Direction that the panel faces, from north through east [°].</param>
public sealed record PowerSetup(
    BatteryChemistry Chemistry, double CapacityAh, double NominalVolts, double PanelWatts, double TiltDeg, double AzimuthDeg)
{
    /// <summary>Height over the sea [m]: thinner air lets more sun through.</summary>
    public double HeightM { get; init; }

    /// <summary>Which table tells its charge from a rest voltage; null takes the usual one of its chemistry.</summary>
    public RestVoltageTable? RestTable { get; init; }

    /// <summary>Whether it is a lead-acid battery.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public bool IsLeadAcid => Chemistry is BatteryChemistry.FloodedLeadAcid or BatteryChemistry.Agm;

    /// <summary>Rated capacity [Wh].</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public double CapacityWh => CapacityAh * NominalVolts;
}
