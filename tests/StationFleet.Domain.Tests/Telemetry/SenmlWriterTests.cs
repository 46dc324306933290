using System.Text;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;

namespace StationFleet.Domain.Tests.Telemetry;

public sealed class SenmlWriterTests
{
    private static readonly DateTimeOffset At = new(2026, 7, 8, 13, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Write_gives_base_name_and_base_time_once_and_times_from_there()
    {
        Measurement[] measurements =
        [
            new("tank/fill", At, 0.57),
            new("tools/brush/uses", At.AddMinutes(5), 12),
            new("radio/signal", At.AddMilliseconds(-250), -118),
        ];

        string pack = Encoding.UTF8.GetString(SenmlWriter.Write("COP-1", measurements));

        pack.Should().Be(
            """[{"bn":"COP-1/","bt":1783515600,"n":"tank/fill","u":"/","v":0.57},"""
            + """{"n":"tools/brush/uses","u":"count","t":300,"v":12},{"n":"radio/signal","u":"dBW","t":-0.25,"v":-118}]""");
    }

    [Fact]
    public void Write_leaves_the_base_name_out_of_a_logger_s_readings_and_keeps_the_units_they_state()
    {
        string pack = Encoding.UTF8.GetString(SenmlWriter.Write(
            [new LoggerLine.Reading(2, null, "lake/level", At, "m", 2), new LoggerLine.Reading(3, null, "battery/voltage", At, "mV", 12800)]));

        pack.Should().Be("""[{"bver":26,"bt":1783515600,"n":"lake/level","u":"m","v":2},{"n":"battery/voltage","u":"mV","v":12800}]""");
    }

    [Fact]
    public void Write_refuses_a_pack_without_records()
    {
        Action empty = () => SenmlWriter.Write("COP-1", []);

        empty.Should().Throw<ArgumentException>();
    }
}
