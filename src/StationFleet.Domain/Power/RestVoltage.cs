namespace StationFleet.Domain.Power;

/// <summary>Which published table tells the charge of a rested lead-acid battery from its voltage.</summary>
/// <remarks>They disagree by 10 to 25 points of charge in the middle: what comes of one is «about».</remarks>
public enum RestVoltageTable
{
    /// <summary>Flooded: an inverter's manual (Xantrex DR, 975-0012-01-02, table B-6), after three hours at rest.</summary>
    FloodedInverterManual,

    /// <summary>Flooded: a battery maker's answers (Discover Battery), by specific gravity.</summary>
    FloodedMaker,

    /// <summary>Flooded, deep-cycle: the widely copied table in steps of a hundredth of a volt (its origin is not certain).</summary>
    FloodedDeepCycle,

    /// <summary>AGM: a maker's service page (Concorde).</summary>
    AgmMaker,
}

/// <summary>State of charge of a rested lead-acid battery, about, from its voltage.</summary>
public static class RestVoltage
{
    /// <summary>A rest voltage falls by so much for each degree that it is colder [V/°C, one cell]; charging voltages move far more, the other way.</summary>
    /// <remarks>0.024 V for 10 °F and 12 V (Discover Battery): 0.72 mV/°C and cell.</remarks>
    public const double VoltsPerDegreeAndCell = 0.00072;

    /// <summary>The temperature at which the tables hold [°C].</summary>
    public const double TableC = 25;

    /// <summary>How far charge from voltage may be off: half of what the published tables differ by, 0 to 1.</summary>
    public const double Uncertainty = 0.12;

    private static readonly (double Volts, double Share)[] InverterManual =
        [(11.5, 0), (11.6, 0.10), (11.7, 0.20), (11.8, 0.30), (12.0, 0.40), (12.1, 0.50), (12.2, 0.60), (12.3, 0.70), (12.5, 0.80), (12.6, 0.90), (12.7, 1)];

    private static readonly (double Volts, double Share)[] Maker =
        [(11.89, 0), (12.06, 0.25), (12.24, 0.50), (12.45, 0.75), (12.65, 1)];

    private static readonly (double Volts, double Share)[] DeepCycle =
        [(11.36, 0), (11.51, 0.10), (11.66, 0.20), (11.81, 0.30), (11.96, 0.40), (12.10, 0.50), (12.24, 0.60), (12.37, 0.70), (12.50, 0.80), (12.62, 0.90), (12.73, 1)];

    private static readonly (double Volts, double Share)[] Agm =
        [(10.50, 0), (11.75, 0.25), (12.20, 0.50), (12.55, 0.75), (12.80, 1)];

    /// <summary>The table that is used for a chemistry when nobody chose one; null where charge cannot be told from voltage.</summary>
    /// <param name="chemistry">What the battery is made of.</param>
    public static RestVoltageTable? UsualTable(BatteryChemistry chemistry) => chemistry switch
    {
        BatteryChemistry.FloodedLeadAcid => RestVoltageTable.FloodedInverterManual,
        BatteryChemistry.Agm => RestVoltageTable.AgmMaker,
        _ => null,
    };

    /// <summary>State of charge, about, 0 to 1; between the table's rows in a straight line, beyond them 0 or 1.</summary>
    /// <param name="restVolts">The voltage of the rested battery [V].</param>
    /// <param name="table">The table.</param>
    /// <param name="nominalVolts">The battery's nominal voltage [V]: the tables are for 12.</param>
    /// <param name="batteryC">Its temperature [°C]; null takes that of the tables.</param>
    public static double Charge(double restVolts, RestVoltageTable table, double nominalVolts, double? batteryC)
    {
        double cells = nominalVolts / 2;
        double at25 = restVolts + (VoltsPerDegreeAndCell * cells * (TableC - (batteryC ?? TableC)));
        double volts = at25 * 12 / nominalVolts;
        (double Volts, double Share)[] rows = table switch
        {
            RestVoltageTable.FloodedInverterManual => InverterManual,
            RestVoltageTable.FloodedMaker => Maker,
            RestVoltageTable.FloodedDeepCycle => DeepCycle,
            RestVoltageTable.AgmMaker => Agm,
            _ => throw new ArgumentOutOfRangeException(nameof(table), table, "There is no such table."),
        };
        return StraightLine.Through(rows, volts);
    }
}

/// <summary>A curve given by points.</summary>
internal static class StraightLine
{
    /// <summary>The value between the points in a straight line; beyond them the first or last.</summary>
    public static double Through(ReadOnlySpan<(double X, double Y)> points, double x)
    {
        if (!(x > points[0].X))
        {
            return points[0].Y;
        }

        for (int i = 1; i < points.Length; i++)
        {
            if (x <= points[i].X)
            {
                (double X, double Y) before = points[i - 1];
                return before.Y + ((points[i].Y - before.Y) * (x - before.X) / (points[i].X - before.X));
            }
        }

        return points[^1].Y;
    }
}
