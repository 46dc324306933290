using StationFleet.Domain.Fleet;
using StationFleet.Domain.Power;

namespace StationFleet.Domain.Simulation;

/// <summary>Sun, panel, battery and loads of a simulated station over a day.</summary>
internal sealed class DayPower(StationPlan plan, Stay stay, StationState state, DayWeather weather)
{
    private const double ChargeEfficiency = 0.9;
    private const double PanelEfficiency = 0.8;
    private const double CutOffShare = 0.05;
    private const double BackOnShare = 0.15;
    private const double StepHours = StationDay.StepMinutes / 60.0;

    public double LowestChargeShare { get; private set; } = 1;

    /// <summary>What a clean, connected panel could have given [Wh].</summary>
    public double SunWattHours { get; private set; }

    /// <summary>What this panel could have given [Wh].</summary>
    public double PanelWattHours { get; private set; }

    /// <summary>What was taken from it [Wh].</summary>
    public double TakenWattHours { get; private set; }

    public double LoadWattHours { get; private set; }

    /// <summary>One step up to an instant, in which the tools drew so many watt-hours.</summary>
    public (double SolarWatts, double LoadWatts, SunPosition Sun) Step(DateTimeOffset middle, DateTimeOffset at, double toolWattHours)
    {
        SunPosition sun = SunPosition.At(middle, stay.Access.Latitude, stay.Access.Longitude);
        double load = state.IsCutOff
            ? 0
            : plan.BaseLoadWatts + (toolWattHours * 60 / StationDay.StepMinutes) + (plan.On(FaultKind.ExtraLoad, at)?.Watts ?? 0);
        double solar = Charge(middle, sun, load);
        LowestChargeShare = Math.Min(LowestChargeShare, state.ChargeShare);
        return (solar, load, sun);
    }

    /// <summary>Whether the charge controller has cut the loads off an empty battery.</summary>
    public bool CutOff(DateTimeOffset at)
    {
        bool hasBattery = plan.PowerAt(at) is not null;
        if (state.IsCutOff && state.ChargeShare >= BackOnShare)
        {
            state.IsCutOff = false;
            state.Restart(at);
        }
        else if (hasBattery && state.ChargeShare < CutOffShare)
        {
            state.IsCutOff = true;
        }

        return state.IsCutOff;
    }

    private double Charge(DateTimeOffset middle, SunPosition sun, double loadWatts)
    {
        if (plan.PowerAt(middle) is not { } power)
        {
            return 0;
        }

        double capacityWh = power.CapacityAh * power.NominalVolts * (plan.On(FaultKind.BatteryAged, middle)?.KeptShare ?? 1);
        double sky = ClearSky.OnPanelWattsPerM2(sun, power.TiltDeg, power.AzimuthDeg) / 1000;
        double clean = sky * Weather.Through(plan.Seed, weather, middle) * power.PanelWatts * PanelEfficiency;
        double available = clean * plan.PanelShareAt(middle, isAfternoon: sun.AzimuthDeg > 180);

        // A battery takes less and less as it fills: from 90 % on the controller throttles the panel.
        double accepted = capacityWh * 0.2 * Math.Min(1, (1 - state.ChargeShare) / 0.1);
        double solar = Math.Min(available, loadWatts + accepted);
        double net = solar - loadWatts;
        state.ChargeShare = Math.Clamp(
            state.ChargeShare + ((net > 0 ? net * ChargeEfficiency : net) * StepHours / capacityWh), 0, 1);
        SunWattHours += clean * StepHours;
        PanelWattHours += available * StepHours;
        TakenWattHours += solar * StepHours;
        LoadWattHours += loadWatts * StepHours;
        return solar;
    }
}
