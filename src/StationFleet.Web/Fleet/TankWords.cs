using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Time;
using StationFleet.Storage.Service;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Fleet;

/// <summary>What a station's page says of its tank, each volume with its uncertainty.</summary>
internal sealed class TankWords(TankHistory tank, IReadOnlyList<TankDip> dips, UnitSystem units)
{
    /// <summary>What is in the tank, in a sentence; null when it is not known.</summary>
    public string? Now(IReadOnlyList<LatestValue> latest, DateTimeOffset now, TimeZoneInfo zone)
    {
        if (tank.ReadBest([.. latest.Select(value => new Measurement(value.Name, value.At, value.Value))]) is not ({ } reading, { } amount))
        {
            return null;
        }

        string level = amount.LevelM is { } levelM && reading.Name != MeasurementName.TankFill
            ? $", the liquid {NumberWords.Brief(Units.HeightFor(levelM, units))} {Units.HeightUnit(units)} high"
            : "";
        return $"It holds {Volume(amount.Litres, TankUncertainty.LitresAt(tank, dips, reading.At))} of {Volume(amount.CapacityLitres)}"
            + $"{level}; measured {SpokenTime.Ago(reading.At, now, zone)}. {Worth(reading.At)}";
    }

    /// <summary>The emptyings with how they are known, and what a stick said before.</summary>
    public IEnumerable<(DateTimeOffset At, string Words)> PumpOuts(IReadOnlyList<PumpOut> rows) =>
        from pumpOut in Domain.Seasons.PumpOuts.Count(rows.Select(row => row.ToRecord(tank, dips)))
        let dip = dips.Where(dip => (dip.At - pumpOut.At).Duration() <= Domain.Seasons.PumpOuts.SameWithin)
            .MinBy(dip => (dip.At - pumpOut.At).Duration())
        let stick = dip is null ? "" : $"; the stick read {Volume(dip.DipLitres)}, the sensor {Volume(dip.SensorLitres)}"
        select (pumpOut.At, $"{Volume(pumpOut.Litres, pumpOut.UncertaintyLitres)}, {Of(pumpOut.Witness)}{stick}");

    private string Worth(DateTimeOffset at)
    {
        int compared = TankUncertainty.Counted(tank, dips, at).Count();
        return compared == 0
            ? "The ± is what such a sensor is usually worth: no stick has checked it yet."
            : $"The ± comes from {(compared == 1 ? "one pump-out" : $"{NumberWords.Count(Math.Min(compared, TankUncertainty.MostDips))} pump-outs")} with a stick.";
    }

    private string Volume(double litres, double? uncertaintyLitres = null) => uncertaintyLitres is { } uncertainty
        ? $"{NumberWords.Brief(Units.VolumeFor(litres, units))} ± {NumberWords.Brief(Units.VolumeFor(uncertainty, units))} {Units.VolumeUnit(units)}"
        : $"{NumberWords.Brief(Units.VolumeFor(litres, units))} {Units.VolumeUnit(units)}";

    private static string Of(PumpOutWitness witness) => witness switch
    {
        PumpOutWitness.Sensor => "seen by the sensor only",
        PumpOutWitness.Person => "written down only",
        _ => "seen by the sensor and written down",
    };
}
