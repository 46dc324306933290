using StationFleet.Domain.Seasons;

namespace StationFleet.Domain.Tests.Seasons;

public sealed class PumpOutsTests
{
    private static readonly DateTimeOffset Noon = new(2026, 7, 1, 18, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Count_takes_what_sensor_and_person_both_recorded_as_one_with_the_sensors_amount() =>
        PumpOuts.Count([new(Noon.AddHours(2), 208, false), new(Noon, 181, true)])
            .Should().Equal(new CountedPumpOut(Noon, 181, PumpOutWitness.Both));

    [Fact]
    public void Count_keeps_what_lies_further_apart() =>
        PumpOuts.Count([new(Noon.AddHours(7), 208, false), new(Noon, 181, true)]).Should().Equal(
            new CountedPumpOut(Noon, 181, PumpOutWitness.Sensor), new CountedPumpOut(Noon.AddHours(7), 208, PumpOutWitness.Person));

    [Fact]
    public void Count_pairs_each_person_with_one_sensor_record_only() =>
        PumpOuts.Count([new(Noon, 100, true), new(Noon.AddHours(1), 90, true), new(Noon.AddMinutes(10), 200, false)])
            .Select(pumpOut => pumpOut.Witness).Should().Equal(PumpOutWitness.Both, PumpOutWitness.Sensor);
}
