using StationFleet.Domain.Power;
using StationFleet.Domain.Statistics;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>How the newest state of charge is known.</summary>
public enum ChargeSource
{
    /// <summary>The station reports it.</summary>
    Reported,

    /// <summary>Told from the voltage of the rested battery: about.</summary>
    RestVoltage,

    /// <summary>Only that it is full, or nearly empty, by the voltage of a lithium iron phosphate battery.</summary>
    FullOrEmpty,
}

/// <summary>What is known of a station's battery, panel and loads, by quarter hours and days.</summary>
public sealed record PowerFacts
{
    /// <summary>
    /// A quarter hour counts for the panel's test only while the battery is under this: above, the controller may hold the panel back.
    /// </summary>
    public const double BulkUnder = 0.90;

    /// <summary>The same where the voltage shows as well that the controller is not yet at its absorption voltage.</summary>
    public const double BulkUnderByVoltage = 0.95;

    private const double UnderAbsorptionVolts = 0.2;
    private const double LeastLight = 200;
    private const int LeastQuarters = 3;
    private const double BetterQuarters = 0.85;
    private const int TestedDaysKept = 60;
    private const int DaysKept = 35;
    private const double DarkElevationDeg = 15;
    private const double DarkShare = 0.005;
    private const double LitShare = 0.02;

    // Judged by what was drawn, not by how far the charge fell: nights of a great fall alone would make every battery small.
    private const double LeastDrawn = 0.015;
    private const double LeastNightHours = 3;
    private static readonly TimeSpan Quarter = TimeSpan.FromMinutes(15);
    private static readonly TimeSpan Fresh = TimeSpan.FromHours(1);

    /// <summary>How the newest charge is known.</summary>
    public ChargeSource Source { get; set; }

    /// <summary>When the station last reported a charge itself; null when it never did.</summary>
    public DateTimeOffset? ReportedAt { get; set; }

    /// <summary>The newest battery temperature [°C].</summary>
    public Reading? BatteryC { get; set; }

    /// <summary>The newest air temperature [°C].</summary>
    public Reading? AirC { get; set; }

    /// <summary>The newest battery current [A], positive when charging.</summary>
    public Reading? Amperes { get; set; }

    /// <summary>The quarter hour that is under way.</summary>
    public PowerQuarter? Open { get; set; }

    /// <summary>Today so far.</summary>
    public PowerToday Today { get; set; } = new();

    /// <summary>The night under way, or the last one.</summary>
    public PowerNight Night { get; set; } = new();

    /// <summary>The last five weeks, in order; the array is never changed, only replaced.</summary>
    public PowerDay[] Days { get; set; } = [];

    /// <summary>The days of the last two months on which the panel was tested, in order; never changed, only replaced.</summary>
    public PanelDay[] Tested { get; set; } = [];

    /// <summary>What the panel gives of late, as a share of what it used to give; null until enough days were tested.</summary>
    public double? PanelRatio { get; set; }

    /// <summary>Where it stood and what it had when <see cref="Tested"/> began; another panel or place is judged anew.</summary>
    public string Panel { get; set; } = "";

    /// <summary>Quarter hours of sun in a row in which nothing came from the panel.</summary>
    public int DarkQuarters { get; set; }

    /// <summary>When they began.</summary>
    public DateTimeOffset? DarkSince { get; set; }

    /// <summary>The charge when they began, 0 to 1.</summary>
    public double? DarkFrom { get; set; }

    /// <summary>Takes all measurements of one instant.</summary>
    /// <param name="charge">The newest charge, this instant's included.</param>
    /// <param name="instant">The measurements.</param>
    /// <param name="day">The instant's local date.</param>
    /// <param name="context">The station.</param>
    /// <returns>The newest charge: the same, or one told from the voltage.</returns>
    internal Reading? Take(Reading? charge, ReadOnlySpan<Measurement> instant, DateOnly day, FactsContext context)
    {
        DateTimeOffset at = instant[0].At;
        (double? solar, double? load, double? amperes, double? volts, bool isAny) = (null, null, null, null, false);
        foreach (ref readonly Measurement measurement in instant)
        {
            switch (measurement.Name)
            {
                case MeasurementName.SolarPower:
                    (solar, isAny) = (measurement.Value, true);
                    break;
                case MeasurementName.LoadPower:
                    (load, isAny) = (measurement.Value, true);
                    break;
                case MeasurementName.BatteryCurrent:
                    (amperes, Amperes, isAny) = (measurement.Value, new Reading(at, measurement.Value), true);
                    break;
                case MeasurementName.BatteryVoltage:
                    (volts, isAny) = (measurement.Value, true);
                    break;
                case MeasurementName.BatteryTemperature:
                    BatteryC = new Reading(at, measurement.Value);
                    break;
                case MeasurementName.AirTemperature:
                    AirC = new Reading(at, measurement.Value);
                    break;
                case MeasurementName.BatteryCharge:
                    (ReportedAt, Source, isAny) = (at, ChargeSource.Reported, true);
                    break;
            }
        }

        if (!isAny || context.Setup.Power is not { } power || context.SunOver(at) is not { } place)
        {
            return charge;
        }

        DateTimeOffset start = new((at.UtcTicks - 1) / Quarter.Ticks * Quarter.Ticks, TimeSpan.Zero);
        if (Open is { } open && open.Start != start)
        {
            charge = Close(open, charge, power, context);
            Open = null;
        }

        if (Today.Date != day)
        {
            TurnDay(day);
        }

        if (Panel != place.Key)
        {
            (Panel, Tested, PanelRatio) = (place.Key, [], null);
        }

        // Without a meter on the loads, what the panel gives and the battery does not take goes to them.
        load ??= solar is { } given && amperes is { } taken && volts is { } level ? Math.Max(0, given - (taken * level)) : null;
        Open = (Open ?? new PowerQuarter(start)).With(solar, load, amperes, volts, charge is { } known && at - known.At < Fresh ? known.Value : null);
        return charge;
    }

    // Somebody looked: what was wrong is past, or it was always so.
    internal void TakeFinding(Rule rule, bool wasFine)
    {
        switch (rule)
        {
            case Rule.WeakPanel:
                (Tested, PanelRatio, DarkQuarters, DarkSince, DarkFrom) = ([], null, 0, null, null);
                Today = Today with { Shares = [] };
                break;
            case Rule.ExtraLoad:
                double? usual = wasFine ? null : ExtraLoad.UsualWatts(this);
                Days = [.. Days.Select(day => day.BaseWatts > (usual ?? 0) ? day with { BaseWatts = null } : day)];
                Today = Today with { BaseWatts = null };
                break;
            case Rule.AgedBattery:
                Days = [.. Days.Select(day => day with { HoldsWattHours = null })];
                Today = Today with { HoldsWattHours = null };
                break;
        }
    }

    private Reading? Close(PowerQuarter quarter, Reading? charge, PowerSetup power, FactsContext context)
    {
        DateTimeOffset middle = quarter.Start + (Quarter / 2);
        if (context.SunOver(middle) is not { } place)
        {
            return charge;
        }

        (SunPosition sun, double light) = place.Sun.At(middle);
        bool isUp = sun.ElevationDeg > 0;
        if (isUp)
        {
            EndNight(power);
            CloseBySun(quarter, sun, light, power);
        }
        else
        {
            Night = Night.IsOver ? new PowerNight().With(quarter) : Night.With(quarter);
            (DarkQuarters, DarkSince, DarkFrom) = IsDark ? (DarkQuarters, DarkSince, DarkFrom) : (0, null, null);
        }

        return charge is not null && ReportedAt > quarter.Start.AddDays(-1) ? charge : Estimate(quarter, isUp, charge, power);
    }

    /// <summary>Whether the panel has given nothing for two hours of sun, though the battery would have taken it.</summary>
    internal bool IsDark => DarkQuarters >= DisconnectedPanel.Quarters;

    private void CloseBySun(PowerQuarter quarter, SunPosition sun, double light, PowerSetup power)
    {
        Today = Today with
        {
            DayLoad = Today.DayLoad.With(quarter.LoadWatts),
            DayLoadSquares = Today.DayLoadSquares.With(quarter.LoadWatts * quarter.LoadWatts),
        };
        if (quarter.SolarWatts is not { } watts || power.PanelWatts <= 0)
        {
            return;
        }

        double clear = light / 1000 * power.PanelWatts;
        double? charge = quarter.Charge;
        bool isBulk = IsBulk(quarter, power);
        Today = Today with
        {
            TakenWatts = Today.TakenWatts + watts,
            ClearWatts = Today.ClearWatts + clear,
            FreeTaken = Today.FreeTaken + (isBulk ? watts : 0),
            FreeClear = Today.FreeClear + (isBulk ? clear : 0),
            WasFull = Today.WasFull || !isBulk,
            DuskCharge = charge ?? Today.DuskCharge,
            Shares = isBulk && light > LeastLight ? [.. Today.Shares, Math.Round(watts / clear, 3)] : Today.Shares,
        };

        if (watts > LitShare * power.PanelWatts)
        {
            (DarkQuarters, DarkSince, DarkFrom) = (0, null, null);
        }
        else if (watts < DarkShare * power.PanelWatts && sun.ElevationDeg > DarkElevationDeg && light > LeastLight)
        {
            (DarkSince, DarkFrom) = (DarkSince ?? quarter.Start, DarkFrom ?? charge);

            // A battery that is full may leave the panel alone; one that is drained in the sun may not.
            bool wouldTake = isBulk || charge < DarkFrom - DisconnectedPanel.LeastFall;
            DarkQuarters += wouldTake || DarkQuarters < DisconnectedPanel.Quarters - 1 ? 1 : 0;
        }
    }

    private bool IsBulk(PowerQuarter quarter, PowerSetup power)
    {
        bool? isUnderAbsorption = quarter.Volts is { } volts
            ? volts < AbsorptionVolts(power) - (UnderAbsorptionVolts * power.NominalVolts / 12)
            : null;
        return quarter.Charge is { } charge
            ? isUnderAbsorption is { } isUnder ? isUnder && charge < BulkUnderByVoltage : charge < BulkUnder
            : isUnderAbsorption == true;
    }

    private void EndNight(PowerSetup power)
    {
        if (Night.IsOver)
        {
            return;
        }

        PowerNight night = Night = Night with { IsOver = true };
        bool isLong = night.Hours >= LeastNightHours;
        double? fall = night.FromCharge - night.ToCharge;
        double? drawn = night.LateLoad.Mean * night.LateHours;
        Today = Today with
        {
            NightWatts = isLong ? night.Load.Mean : null,
            BaseWatts = isLong && night.Least.Length > 0 ? Quantiles.Of(night.Least, 0.5) : null,
            HoldsWattHours = isLong && drawn > LeastDrawn * power.CapacityWh && fall > 0 ? Math.Round(drawn / fall ?? 0) : null,
        };
    }

    private void TurnDay(DateOnly day)
    {
        if (Today.Date is { } date && date < day)
        {
            if (Today.Shares.Length >= LeastQuarters)
            {
                Tested = [.. Tested.Where(tested => tested.Date > date.AddDays(-TestedDaysKept)), new PanelDay(date, Math.Round(Quantiles.Of(Today.Shares, BetterQuarters), 3))];
                PanelRatio = WeakPanel.Ratio(Tested);
            }

            PowerDay past = new(date, Today.SunShare(), Today.DayLoad.Mean, Today.NightWatts, Today.BaseWatts, Today.HoldsWattHours,
                Today.DayNoise(), Today.WasFull ? Today.DuskCharge : null);
            Days = [.. Days.Where(kept => kept.Date > date.AddDays(-DaysKept)), past];
        }

        Today = new PowerToday { Date = day };
    }

    // Charge for stations that do not report it: never between full and nearly empty for lithium, whose voltage is flat.
    private Reading? Estimate(PowerQuarter quarter, bool isUp, Reading? charge, PowerSetup power)
    {
        if (quarter.Volts is not { } volts || quarter.Amperes is not { } amperes)
        {
            return charge;
        }

        DateTimeOffset at = quarter.Start + Quarter;
        double twelve = volts * 12 / power.NominalVolts;
        if (!power.IsLeadAcid)
        {
            bool isFull = twelve >= 14.2 && amperes >= 0 && amperes < 0.04 * power.CapacityAh;
            bool isEmpty = twelve < 12.5 && amperes > -0.05 * power.CapacityAh;
            Source = isFull || isEmpty ? ChargeSource.FullOrEmpty : Source;
            return isFull ? new Reading(at, 1) : isEmpty ? new Reading(at, NearlyEmpty) : charge;
        }

        if (isUp || Night.Hours < LeastNightHours || Math.Abs(amperes) > power.CapacityAh / 100
            || (power.RestTable ?? RestVoltage.UsualTable(power.Chemistry)) is not { } table)
        {
            return charge;
        }

        Source = ChargeSource.RestVoltage;
        return new Reading(at, RestVoltage.Charge(volts, table, power.NominalVolts, BatteryC?.Value));
    }

    /// <summary>What stands for the charge of a lithium iron phosphate battery that is nearly empty.</summary>
    private const double NearlyEmpty = 0.10;

    // 14.4 V at 25 °C, 5 mV more for each degree and cell that it is colder (a maker's rule for lead-acid).
    private double AbsorptionVolts(PowerSetup power)
    {
        double colder = power.IsLeadAcid ? 25 - (BatteryC?.Value ?? 25) : 0;
        return (14.4 * power.NominalVolts / 12) + (0.005 * power.NominalVolts / 2 * colder);
    }
}
