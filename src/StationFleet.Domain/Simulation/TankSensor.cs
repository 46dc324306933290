using StationFleet.Domain.Fleet;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Simulation;

/// <summary>The waste tank's sensor with its noise, its false echoes and its faults.</summary>
internal sealed class TankSensor
{
    private const double JumpChance = 0.15;

    private readonly StationPlan _plan;
    private readonly Dice _echo;
    private readonly DateTimeOffset? _blockedFrom;
    private readonly DateTimeOffset? _blockedTo;

    public TankSensor(StationPlan plan, DateOnly date)
    {
        _plan = plan;
        _echo = Dice.For(plan.Seed, plan.Station.Code + "/echo", date.DayNumber);
        if (_echo.Chance(plan.World.BlockedPerDay))
        {
            _blockedFrom = Time.LocalCalendar.StartOf(date, plan.Zone).AddHours(24 * _echo.Next());
            _blockedTo = _blockedFrom?.AddMinutes(_echo.Between(10, 35));
        }
    }

    /// <summary>What the sensor says of a sample; null when this reading fails.</summary>
    public Measurement? Read(FleetTank tank, Sample sample, Dice noise)
    {
        double share = sample.TankLitres / tank.CapacityLitres;
        if (!sample.TankFrozen)
        {
            share += _plan.World.LevelNoiseShare * noise.Normal();
            share = _plan.World.IsPlain && _plan.Faults.Count == 0 ? share : Disturbed(share, sample.At);
        }

        if (double.IsNaN(share))
        {
            return null;
        }

        // What the sensor says of so much, by the tank's shape, its height and its calibration.
        TankReading said = _plan.Tank.Say(Math.Clamp(share, 0, 1.02) * tank.CapacityLitres, sample.At, sample.AirTempC)!;
        double value = said.Name == MeasurementName.TankFill ? Math.Clamp(said.Value, 0, 1) : said.Value;
        return new Measurement(said.Name, sample.At, Math.Round(value, 3));
    }

    private double Disturbed(double share, DateTimeOffset at)
    {
        if (_plan.On(FaultKind.TankJumping, at) is not null && _echo.Chance(JumpChance))
        {
            return _echo.Next();
        }

        if (_echo.Chance(_plan.World.MissingReadingChance))
        {
            return double.NaN;
        }

        // What stands before the sensor looks like a full tank; a stray echo like any level.
        return _blockedFrom <= at && at < _blockedTo ? _echo.Between(0.9, 1.02)
            : _echo.Chance(_plan.World.FalseEchoChance) ? _echo.Next()
            : share;
    }
}
