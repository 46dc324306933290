namespace StationFleet.Domain.Service;

/// <summary>Where spare parts are kept.</summary>
public enum PartPlace
{
    /// <summary>In the truck.</summary>
    Truck,

    /// <summary>On the yard's shelf.</summary>
    Yard,
}
