using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Simulation;

/// <summary>What a station's sensors make of a simulated day, and when it reaches the server.</summary>
internal sealed class ReportBuilder(StationPlan plan, Stay stay, DateOnly date)
{
    private const double LostShare = 0.003;

    private readonly Dice _noise = Dice.For(plan.Seed, plan.Station.Code + "/noise", date.DayNumber);
    private readonly Dice _air = Dice.For(plan.Seed, plan.Station.Code + "/radio", date.DayNumber);
    private readonly double _stagger = 20 + Math.Floor(200 * Dice.At(plan.Seed, plan.Station.Code + "/stagger", 0));
    private readonly double _signal = -122 + (14 * Dice.At(plan.Seed, stay.Access.Slug + "/signal", 0));

    public int Lost { get; private set; }

    public IEnumerable<SimulatedReport> Of(IReadOnlyList<Sample> samples)
    {
        (DateTimeOffset From, DateTimeOffset To)? outage = Outage(samples);
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

            DateTimeOffset? received = ReceivedAt(sample.At, outage);
            if (received is { } arrival && !_air.Chance(LostShare))
            {
                yield return new SimulatedReport(plan.Station.Code, arrival, pack);
            }
            else
            {
                Lost++;
            }

            pack = [];
        }
    }

    private void Add(List<Measurement> pack, Sample sample, bool isMark)
    {
        DateTimeOffset at = sample.At;
        if (plan.TankAt(at) is { } tank)
        {
            pack.Add(TankMeasurement(tank, sample));
        }

        FleetPower? power = plan.PowerAt(at);
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
                if (plan.Hangs(tool, at))
                {
                    pack.Add(new Measurement(plan.Habits[tool].UsesName, at, sample.Counters[tool]));
                }
            }
        }

        if (isMark)
        {
            AddOncePerReport(pack, sample, power);
        }
    }

    private void AddOncePerReport(List<Measurement> pack, Sample sample, FleetPower? power)
    {
        DateTimeOffset at = sample.At;
        pack.Add(new Measurement(MeasurementName.ControllerUptime, at, Math.Floor((at - sample.Started).TotalSeconds)));
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

        if (plan.Station.Portable && at.Minute == 0)
        {
            pack.Add(new Measurement(MeasurementName.Latitude, at, Round(stay.Access.Latitude + (0.00002 * _noise.Normal()), 6)));
            pack.Add(new Measurement(MeasurementName.Longitude, at, Round(stay.Access.Longitude + (0.00002 * _noise.Normal()), 6)));
        }
    }

    private Measurement TankMeasurement(FleetTank tank, Sample sample)
    {
        double share = Math.Clamp((sample.TankLitres / tank.CapacityLitres) + (0.0015 * _noise.Normal()), 0, 1.02);
        TankReading said = plan.Tank.Say(share * tank.CapacityLitres, sample.At, sample.AirTempC)!;
        return new Measurement(said.Name, said.At, Round(said.Name == MeasurementName.TankFill ? Math.Clamp(said.Value, 0, 1) : said.Value, 3));
    }

    private DateTimeOffset? ReceivedAt(DateTimeOffset at, (DateTimeOffset From, DateTimeOffset To)? outage)
    {
        double jitter = 8 * _air.Next();
        double slow = _air.Chance(0.02) ? _air.Between(30, 90) : 0;
        DateTimeOffset usual = at.AddSeconds(_stagger + Math.Round(jitter + slow, 3));
        if (plan.Outages.FirstOrDefault(fault => fault.From <= usual && usual < (fault.To ?? DateTimeOffset.MaxValue)) is { } planned)
        {
            // A card is read in one go; from the controller's memory reports come oldest first, half a second apart.
            double wait = planned.Card ? 0 : Math.Floor((at - planned.From).TotalMinutes / plan.Station.ReportEveryMinutes) * 0.5;
            return planned.To?.AddSeconds(20 + wait);
        }

        return outage is { } gap && gap.From <= usual && usual < gap.To
            ? gap.To.AddSeconds(20 + (2 * Math.Floor((at - gap.From).TotalMinutes / plan.Station.ReportEveryMinutes)))
            : usual;
    }

    // Now and then an hour or two without radio, within the day.
    private (DateTimeOffset From, DateTimeOffset To)? Outage(IReadOnlyList<Sample> samples)
    {
        if (!_air.Chance(0.06) || samples.Count < 2)
        {
            return null;
        }

        DateTimeOffset from = samples[(int)(_air.Next() * samples.Count)].At;
        DateTimeOffset to = from.AddMinutes(Math.Floor(_air.Between(20, 140)));
        return (from, to < samples[^1].At ? to : samples[^1].At);
    }

    private static double Round(double value, int digits) => Math.Round(value, digits);
}
