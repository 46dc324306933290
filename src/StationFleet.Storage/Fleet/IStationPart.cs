using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>A row of a station's setup that holds from an instant until the next: a tank, a calibration, a battery with its panel.</summary>
public interface IStationPart
{
    int Id { get; }

    StationId StationId { get; }
}
