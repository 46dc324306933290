using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Simulation;

/// <summary>What a station's sensors make of a simulated day.</summary>
internal sealed class ReportBuilder(StationPlan plan, Stay stay, DateOnly date)
{
    private readonly Dice _noise = Dice.For(plan.Seed, plan.Station.Code + "/noise", date.DayNumber);
    private readonly TankSensor _tankSensor = new(plan, date);
    private readonly RadioLink _radio = new(plan, date);
    private readonly double _signal = -122 + (14 * Dice.At(plan.Seed, stay.Access.Slug + "/signal", 0));

    public int Lost { get; private set; }

    public IEnumerable<SimulatedReport> Of(IReadOnlyList<Sample> samples)
    {
        _radio.Begin(samples);
        long every = TimeSpan.FromMinutes(plan.Station.ReportEveryMinutes).Ticks;
        List<Measurement> pack = [];
        for (int i = 0; i < samples.Count; i++)
        {
            Sample sample = samples[i];
            bool isMark = sample.At.UtcTicks % every == 0 || i == samples.Count - 1;
            Add(pack, sample, isMark);
            if (!isMark)
            {
                continue;
            }

            if (_radio.Deliver(sample.At) is { } arrival)
            {
                SimulatedReport report = new(plan.Station.Code, arrival, pack);
                yield return report;
                if (_radio.Repeat(arrival) is { } again)
                {
                    yield return report with { Received = again };
                }
            }
            else
            {
                Lost++;
            }

            pack = new List<Measurement>(16);
        }
    }

    private void Add(List<Measurement> pack, Sample sample, bool isMark)
    {
        // What the controller writes beside its values is its own clock.
        DateTimeOffset at = plan.On(FaultKind.ClockJump, sample.At) is { } wrong ? sample.At.AddSeconds(wrong.AheadSeconds) : sample.At;
        if (plan.TankAt(sample.At) is { } tank && _tankSensor.Read(tank, sample, _noise) is { } seen)
        {
            pack.Add(seen with { At = at });
        }

        FleetPower? power = plan.PowerAt(sample.At);
        if (power is not null)
        {
            pack.Add(new Measurement(MeasurementName.BatteryCharge, at, Round(Math.Clamp(sample.ChargeShare + (0.002 * _noise.Normal()), 0, 1), 3)));

            // At night the panel's nought says nothing new: once a report is enough.
            if (sample.SunElevationDeg > -1 || isMark)
            {
                pack.Add(new Measurement(MeasurementName.SolarPower, at, Round(sample.SolarWatts, 1)));
            }
        }

        if (sample.CountersMoved || isMark)
        {
            for (int tool = 0; tool < plan.Habits.Count; tool++)
            {
                if (plan.Hangs(tool, sample.At))
                {
                    pack.Add(new Measurement(plan.Habits[tool].UsesName, at, sample.Counters[tool]));
                }
            }
        }

        if (isMark)
        {
            AddOncePerReport(pack, sample, at, power);
        }
    }

    private void AddOncePerReport(List<Measurement> pack, Sample sample, DateTimeOffset at, FleetPower? power)
    {
        pack.Add(new Measurement(MeasurementName.ControllerUptime, at, Math.Floor((sample.At - sample.Started).TotalSeconds)));
        pack.Add(new Measurement(MeasurementName.RadioSignal, at, Round(_signal + (2 * _noise.Normal()), 0)));
        pack.Add(new Measurement(MeasurementName.AirTemperature, at, Round(sample.AirTempC + (0.3 * _noise.Normal()), 1)));
        if (power is not null)
        {
            double amperes = (sample.SolarWatts - sample.LoadWatts) / power.NominalVolts;
            double volts = power.NominalVolts * (0.985 + (0.075 * sample.ChargeShare) + (0.004 * Math.Clamp(amperes, -10, 12)));
            pack.Add(new Measurement(MeasurementName.BatteryVoltage, at, Round(volts + (0.01 * _noise.Normal()), 2)));
            pack.Add(new Measurement(MeasurementName.BatteryCurrent, at, Round(amperes, 2)));
            pack.Add(new Measurement(MeasurementName.LoadPower, at, Round(sample.LoadWatts, 1)));
        }

        if (plan.Station.Portable && sample.At.Minute == 0)
        {
            FleetAccess place = plan.On(FaultKind.PortableMoved, sample.At)?.Access is { } slug ? plan.Accesses[slug] : stay.Access;
            pack.Add(new Measurement(MeasurementName.Latitude, at, Round(place.Latitude + (plan.World.FixNoiseDeg * _noise.Normal()), 6)));
            pack.Add(new Measurement(MeasurementName.Longitude, at, Round(place.Longitude + (plan.World.FixNoiseDeg * _noise.Normal()), 6)));
        }
    }

    private static double Round(double value, int digits) => Math.Round(value, digits);
}
