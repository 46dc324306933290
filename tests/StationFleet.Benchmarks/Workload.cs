using StationFleet.Domain.Telemetry;

namespace StationFleet.Benchmarks;

/// <summary>What is sent: every sender is a station of its own and sends reports of the same shape, one after the other.</summary>
/// <param name="Senders">How many send at the same time; each waits for its answer.</param>
/// <param name="Names">What each station measures.</param>
/// <param name="Samples">Instants in one report, five minutes apart.</param>
/// <param name="WarmUp">Reports of each sender before the clock starts, for stations of their own.</param>
/// <param name="Timed">Reports of each sender that are timed; at most the burst that a key may send.</param>
internal sealed record Workload(int Senders, string[] Names, int Samples, int WarmUp, int Timed)
{
    private static readonly DateTimeOffset First = new(2025, 5, 1, 0, 5, 0, TimeSpan.Zero);

    private static readonly string[] Ten =
    [
        MeasurementName.Uses("vacuum"), MeasurementName.Uses("grabber"), MeasurementName.Uses("brush"), MeasurementName.OnTime("vacuum"),
        MeasurementName.TankFill, MeasurementName.BatteryVoltage, MeasurementName.BatteryCharge, MeasurementName.SolarPower,
        MeasurementName.LoadPower, MeasurementName.ControllerUptime,
    ];

    /// <summary>A station catching up: 16 senders with packs of 200 records, 10 names at 20 instants.</summary>
    public static Workload Bulk { get; } = new(16, Ten, 20, 200, 400);

    /// <summary>A quarter of an hour of a small station: 64 senders with 12 records, 4 names at 3 instants.</summary>
    public static Workload Small { get; } = new(
        64,
        [MeasurementName.Uses("vacuum"), MeasurementName.TankFill, MeasurementName.BatteryVoltage, MeasurementName.ControllerUptime],
        3,
        500,
        500);

    /// <summary>One instant of a well-equipped station: 64 senders with 12 records, 12 names at one instant.</summary>
    public static Workload Wide { get; } = new(64, [.. Ten, MeasurementName.BatteryTemperature, MeasurementName.RadioSignal], 1, 400, 500);

    public int RecordsPerReport => Names.Length * Samples;

    /// <summary>One for each sender, and as many for the warm-up.</summary>
    public int Stations => 2 * Senders;

    public long TimedReports => (long)Senders * Timed;

    public static Workload Named(string name) => name switch
    {
        "bulk" => Bulk,
        "small" => Small,
        "wide" => Wide,
        _ => throw new ArgumentException($"There is no workload {name}."),
    };

    public static string CodeOf(int sender) => FormattableString.Invariant($"BENCH-{sender}");

    /// <summary>The measurements of one report, in order of time.</summary>
    public Measurement[] Report(int index)
    {
        Measurement[] rows = new Measurement[RecordsPerReport];
        for (int sample = 0; sample < Samples; sample++)
        {
            int step = (index * Samples) + sample;
            DateTimeOffset at = First.AddMinutes(5 * step);
            for (int name = 0; name < Names.Length; name++)
            {
                rows[(sample * Names.Length) + name] = new Measurement(Names[name], at, ValueOf(Names[name], step));
            }
        }

        return rows;
    }

    private static double ValueOf(string name, int step) => name switch
    {
        _ when MeasurementName.KindOf(name) == SeriesKind.Counter => step / 7,
        MeasurementName.ControllerUptime => 300.0 * (step + 1),
        MeasurementName.TankFill or MeasurementName.BatteryCharge => Math.Round(step % 2000 / 2000.0, 4),
        MeasurementName.BatteryVoltage => Math.Round(12.1 + (step % 288 / 250.0), 2),
        MeasurementName.RadioSignal => -100 - (step % 9),
        _ => Math.Round(step % 288 * 0.37, 2),
    };
}
