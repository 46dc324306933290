using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;

namespace StationFleet.Web.Service;

/// <summary>Reads what a person's stick said before a tank was emptied, as a volume or a height.</summary>
internal static class DipField
{
    private const double MostShare = 1.2;
    private const double MostMetres = 5;

    public static DipReading? Read(VisitInput typed, VisitLimits limits, Dictionary<string, string> errors)
    {
        string field = nameof(VisitInput.Dip);
        if (typed.Dip.Trim().Length == 0)
        {
            return null;
        }

        bool isHeight = typed.DipUnit == Units.HeightUnit(limits.Units);
        if (VisitReport.Amount(typed.Dip) is not { } amount)
        {
            errors[field] = isHeight ? $"Write a number of {HeightWord(limits.Units)}, such as 28.5." : $"Write a number of {limits.VolumeWord}, such as 45 or 45.5.";
            return null;
        }

        if (typed.PumpedOut.Trim().Length == 0)
        {
            errors.TryAdd(nameof(VisitInput.PumpedOut), "Write how much was pumped out: the dip is kept with it.");
        }

        if (isHeight && limits.Tank?.Shape is null)
        {
            errors[field] = $"The tank's shape is not set up: read {limits.VolumeWord} off the stick, or write the height into what you found.";
            return null;
        }

        DipReading dip = isHeight ? new DipReading(null, Units.MetresFrom(amount, limits.Units)) : new DipReading(Units.LitresFrom(amount, limits.Units), null);
        if (limits.Tank is { } tank && (dip.Litres > MostShare * tank.CapacityLitres || dip.LevelM > MostShare * tank.Shape?.HeightM))
        {
            string full = isHeight
                ? $"{NumberWords.Brief(Units.HeightFor(tank.Shape!.HeightM, limits.Units))} {Units.HeightUnit(limits.Units)} high"
                : $"{NumberWords.Figures(Units.VolumeFor(tank.CapacityLitres, limits.Units))} {Units.VolumeUnit(limits.Units)} large";
            errors[field] = $"The tank is {full}. Is the number right?";
        }
        else if (dip.LevelM > MostMetres)
        {
            errors[field] = "No tank here is that high. Is the number right?";
        }

        return dip;
    }

    private static string HeightWord(UnitSystem units) => units == UnitSystem.UsCustomary ? "inches" : "metres";
}
