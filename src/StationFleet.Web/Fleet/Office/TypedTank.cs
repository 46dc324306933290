using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Tanks;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Reads the fields that describe a tank: for saving it, and for showing what it would hold before it is saved.</summary>
internal static class TypedTank
{
    private const double LeastLength = 0.1;
    private const double MostLength = 1000;

    private static readonly double[] ShownParts = [0.25, 0.5, 0.75];

    // Dimensions are shown rounded: the same tank must pass when its form is saved again.
    private const double Slack = 1.0005;

    /// <returns>The tank; sound only when nothing was noted as wrong.</returns>
    public static TankSetup Read(TankFields command, UnitSystem units, Typed typed)
    {
        double capacityLitres = Units.LitresFrom(
            typed.Number(nameof(command.Capacity), command.Capacity, 1, 10000, Units.VolumeUnit(units)), units);
        TankShape? shape = Shape(command, capacityLitres, units, typed);
        double? sensorM = Metres(nameof(command.SensorHeight), command.SensorHeight);
        double? assumedC = typed.NumberOrNothing(nameof(command.AssumedTemp), command.AssumedTemp, -60, 160) is { } degrees
            ? Units.CelsiusFrom(degrees, units)
            : null;
        double? accuracy = typed.NumberOrNothing(nameof(command.Accuracy), command.Accuracy, 0.1, 50, "%");
        TankSetup tank = new(capacityLitres, shape, sensorM)
        {
            SensorAssumesC = sensorM is null ? null : assumedC, SensorUncertainty = (accuracy / 100) ?? TankSetup.UsualSensorUncertainty,
        };
        Check(command, tank, units, typed);
        return tank;

        double? Metres(string field, string text) =>
            typed.NumberOrNothing(field, text, LeastLength, MostLength, Units.HeightUnit(units)) is { } length ? Units.MetresFrom(length, units) : null;
    }

    /// <summary>What the tank holds at some heights, in a sentence; null when it has no shape.</summary>
    public static string? Preview(TankSetup tank, UnitSystem units)
    {
        if (tank.Shape is not { } shape)
        {
            return null;
        }

        double fullM = shape.LevelAt(tank.CapacityLitres);
        IEnumerable<string> heights = ShownParts.Select(part =>
        {
            double heightM = Units.MetresFrom(Math.Round(Units.HeightFor(part * fullM, units), units == UnitSystem.UsCustomary ? 0 : 2), units);
            return $"at {Height(heightM)} {Volume(shape.LitresAt(heightM))}";
        });
        string brim = shape is EvenTank || shape.BrimLitres < tank.CapacityLitres * 1.001 ? "" : $"; {Volume(shape.BrimLitres)} to the brim";
        return $"{NumberWords.Capital(string.Join(", ", heights))}; full at {Volume(tank.CapacityLitres)}, {Height(fullM)} high{brim}.";

        string Volume(double litres) => $"{OfficeTexts.Tenths(Units.VolumeFor(litres, units))} {Units.VolumeUnit(units)}";
        string Height(double metres) => $"{OfficeTexts.Number(Units.HeightFor(metres, units))} {Units.HeightUnit(units)}";
    }

    /// <summary>Fills the fields with a tank as it is.</summary>
    public static void Fill(TankFields command, TankSetup tank, UnitSystem units)
    {
        command.Capacity = OfficeTexts.Number(Units.VolumeFor(tank.CapacityLitres, units));
        command.SensorHeight = Length(tank.SensorHeightM);
        command.AssumedTemp = tank.SensorAssumesC is { } celsius ? OfficeTexts.Number(Units.TemperatureFor(celsius, units)) : "";
        command.Accuracy = OfficeTexts.Number(100 * tank.SensorUncertainty);
        (command.Shape, command.Diameter, command.Length, command.Width, command.Height) = tank.Shape switch
        {
            VerticalCylinder drum => (TankShapes.Standing, Length(drum.DiameterM), "", "", Length(drum.BrimHeightM)),
            HorizontalCylinder lying => (TankShapes.Lying, Length(lying.DiameterM), Length(lying.LengthM), "", ""),
            BoxTank box => (TankShapes.Box, "", Length(box.LengthM), Length(box.WidthM), Length(box.BrimHeightM)),
            EvenTank even => (TankShapes.Even, "", "", "", Length(even.FullHeightM)),
            StrappingTable => (TankShapes.Table, "", "", "", ""),
            _ => ("", "", "", "", ""),
        };
        command.Rows = tank.Shape is StrappingTable table
            ? string.Join('\n', table.Rows.Select(row => $"{Length(row.LevelM)}\t{OfficeTexts.Number(Units.VolumeFor(row.Litres, units))}"))
            : "";

        string Length(double? metres) => metres is { } m ? OfficeTexts.Height(Units.HeightFor(m, units), units) : "";
    }

    /// <summary>What a calibration makes of a half-full tank, in a sentence.</summary>
    public static string Change(TankHistory tank, LevelCalibration calibration, UnitSystem units)
    {
        TankHistory without = new(tank.Tanks, [.. tank.Calibrations.Where(other => other != calibration)]);
        if (tank.At(calibration.From) is not { } setup || setup.SensorName != calibration.Name
            || without.Say(setup.CapacityLitres / 2, calibration.From, calibration.AirTempC ?? setup.SensorAssumesC ?? 20) is not { } half
            || tank.Read(half) is not { } now)
        {
            return "Nothing: the tank is set up for another measurement.";
        }

        return $"What was {Volume(setup.CapacityLitres / 2)} is {Volume(now.Litres)}.";

        string Volume(double litres) => $"{OfficeTexts.Tenths(Units.VolumeFor(litres, units))} {Units.VolumeUnit(units)}";
    }

    private static TankShape? Shape(TankFields command, double capacityLitres, UnitSystem units, Typed typed)
    {
        switch (command.Shape)
        {
            case "":
                return null;
            case TankShapes.Even:
                return new EvenTank(Metres(nameof(command.Height), command.Height), capacityLitres);
            case TankShapes.Standing:
                return new VerticalCylinder(Metres(nameof(command.Diameter), command.Diameter), Metres(nameof(command.Height), command.Height));
            case TankShapes.Lying:
                return new HorizontalCylinder(Metres(nameof(command.Diameter), command.Diameter), Metres(nameof(command.Length), command.Length));
            case TankShapes.Box:
                return new BoxTank(
                    Metres(nameof(command.Length), command.Length), Metres(nameof(command.Width), command.Width), Metres(nameof(command.Height), command.Height));
            case TankShapes.Table:
                return Table(command, units, typed);
            default:
                typed.Wrong.Note(nameof(command.Shape), "Choose one of the shapes.");
                return null;
        }

        double Metres(string field, string text) =>
            Units.MetresFrom(typed.Number(field, text, LeastLength, MostLength, Units.HeightUnit(units)), units);
    }

    private static StrappingTable? Table(TankFields command, UnitSystem units, Typed typed)
    {
        string field = nameof(command.Rows);
        List<StrappingRow> rows = [];
        string[] lines = [.. command.Rows.ReplaceLineEndings("\n").Split('\n').Where(line => line.Trim().Length > 0)];
        for (int i = 0; i < lines.Length; i++)
        {
            string[] parts = lines[i].Split([' ', '\t', ';', ','], StringSplitOptions.RemoveEmptyEntries);
            if (parts.Length == 2 && Number(parts[0]) is { } height && Number(parts[1]) is { } volume)
            {
                rows.Add(new StrappingRow(Units.MetresFrom(height, units), Units.LitresFrom(volume, units)));
            }
            else if (i > 0 || rows.Count > 0)
            {
                // The first line may be the headings of a pasted table.
                typed.Wrong.Note(field, string.Create(CultureInfo.InvariantCulture, $"Line {i + 1} is not a height and a volume: «{lines[i].Trim()}»."));
            }
        }

        StrappingTable table = new(rows);
        if (table.Fault() is { } fault)
        {
            typed.Wrong.Note(field, fault);
            return null;
        }

        return table;

        static double? Number(string text) =>
            double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value : null;
    }

    private static void Check(TankFields command, TankSetup tank, UnitSystem units, Typed typed)
    {
        if (command.SensorHeight.Trim().Length > 0 && command.Shape.Length == 0)
        {
            typed.Wrong.Note(nameof(command.Shape), "A distance sensor needs the tank's shape too.");
        }

        if (typed.Wrong.Count > 0 || tank.Shape is not { } shape)
        {
            return;
        }

        if (tank.CapacityLitres > shape.BrimLitres * Slack)
        {
            typed.Wrong.Note(
                nameof(command.Capacity),
                $"A tank of these dimensions holds {OfficeTexts.Tenths(Units.VolumeFor(shape.BrimLitres, units))} {Units.VolumeUnit(units)} to the brim: full cannot be more.");
        }
        else if (tank.SensorHeightM < shape.LevelAt(tank.CapacityLitres))
        {
            typed.Wrong.Note(nameof(command.SensorHeight), "The sensor must hang above the liquid in a full tank.");
        }
    }
}
