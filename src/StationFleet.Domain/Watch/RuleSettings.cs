namespace StationFleet.Domain.Watch;

/// <summary>The limits of the watch at one station; what is not said has its starting value.</summary>
public sealed record RuleSettings
{
    /// <summary>The starting values. Where no other source is named beside a value it is common practice, no source.</summary>
    public static RuleSettings Default { get; } = new();

    /// <summary>How many false alarms of Idle tool a tool may give in a season, on average; 0.01 to 2.</summary>
    public double IdleFalseAlarms { get; init; } = 0.04;

    /// <summary>So many use sessions must have been expected since the last one before Station unused is due soon.</summary>
    public double UnusedSoonSessions { get; init; } = 9;

    /// <summary>…and so many before it raises a ticket.</summary>
    public double UnusedTicketSessions { get; init; } = 30;

    /// <summary>No tool can be used twice within this time [s]: a total that rises faster is broken.</summary>
    public double ShortestUseSeconds { get; init; } = 2;

    /// <summary>How far from its access a station may say that it stands [m].</summary>
    public double MovedMetres { get; init; } = 500;

    /// <summary>A pump-out is due soon when the tank may be full within so many days [d].</summary>
    public double TankSoonDays { get; init; } = 3;

    /// <summary>How long it takes from a ticket to a person with a pump at the station [h]: who is told has this time before it is full.</summary>
    public double TankResponseHours { get; init; } = 24;

    /// <summary>Share of capacity that raises a ticket whatever is forecast, 0 to 1.</summary>
    public double TankRaiseShare { get; init; } = 0.80;

    /// <summary>State of charge under which a low battery is due soon, 0 to 1; the usual one for lead-acid.</summary>
    public double ChargeSoonShare { get; init; } = 0.60;

    /// <summary>State of charge that raises a ticket, 0 to 1; the usual one for lead-acid.</summary>
    public double ChargeRaiseShare { get; init; } = 0.50;

    /// <summary>How long it usually takes until somebody can do something about a low battery [h]: what will be low by then is a ticket now.</summary>
    public double ChargeResponseHours { get; init; } = 48;

    /// <summary>A planned sample is due soon so many days before it must be taken [d].</summary>
    public double SampleSoonDays { get; init; } = 7;

    /// <summary>How long it takes until somebody can be there to sample [h]: a ticket so long before.</summary>
    public double SampleResponseHours { get; init; } = 48;

    /// <summary>A panel that gives less than this share of what it used to is weak, 0 to 1.</summary>
    public double WeakPanelShare { get; init; } = 0.82;

    /// <summary>So much more than usual at night, as a share, is an extra load.</summary>
    public double ExtraLoadShare { get; init; } = 0.30;

    /// <summary>A station counts as silent after this many hours without a report [h]; its ticket waits for its own rhythm.</summary>
    public double SilentAfterHours { get; init; } = 3;
}
