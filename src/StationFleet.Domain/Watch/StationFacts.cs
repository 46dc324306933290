using System.Text.Json.Serialization;
using StationFleet.Domain.Service;
using StationFleet.Domain.Telemetry;

namespace StationFleet.Domain.Watch;

/// <summary>
/// The little that the rules need to know of a station's measurements: a fold over them in the order of measuring, small enough
/// to be kept as JSON for each local day. The same measurements give the same facts, however they arrived.
/// </summary>
public sealed class StationFacts
{
    /// <summary>When the newest measurement was made; null before the first.</summary>
    public DateTimeOffset? LastAt { get; set; }

    /// <summary>The local date of the newest measurement.</summary>
    public DateOnly? Day { get; set; }

    /// <summary>When the controller last started, by its uptime.</summary>
    public DateTimeOffset? BootedAt { get; set; }

    /// <summary>The newest uptime [s].</summary>
    public Reading? Uptime { get; set; }

    /// <summary>How often the uptime fell: restarts seen.</summary>
    public int Restarts { get; set; }

    /// <summary>The newest state of charge, 0 to 1.</summary>
    public Reading? Charge { get; set; }

    /// <summary>Battery, panel and loads.</summary>
    public PowerFacts Power { get; init; } = new();

    /// <summary>The waste tank's fill.</summary>
    public TankFacts Tank { get; init; } = new();

    /// <summary>Where the station last said that it stands.</summary>
    public PositionFacts Position { get; set; } = new();

    /// <summary>The use session that may not be over; null when none is under way.</summary>
    public OpenSession? Session { get; set; }

    /// <summary>How the station is used.</summary>
    public SessionFacts Sessions { get; init; } = new();

    /// <summary>The tools, by the name of their running total.</summary>
    [JsonObjectCreationHandling(JsonObjectCreationHandling.Populate)]
    public SortedDictionary<string, ToolFacts> Tools { get; init; } = new(StringComparer.Ordinal);

    /// <summary>Another one with the same content.</summary>
    public StationFacts Copy() => new()
    {
        LastAt = LastAt,
        Day = Day,
        BootedAt = BootedAt,
        Uptime = Uptime,
        Restarts = Restarts,
        Charge = Charge,
        Power = Power with { },
        Tank = Tank with { },
        Position = Position,
        Session = Session,
        Sessions = Sessions.Copy(),
        Tools = new SortedDictionary<string, ToolFacts>(Tools.ToDictionary(t => t.Key, t => t.Value with { }), StringComparer.Ordinal),
    };

    /// <summary>Takes all measurements of one instant, which must lie after <see cref="LastAt"/>.</summary>
    /// <param name="instant">The measurements, each name once, in any order.</param>
    /// <param name="context">The station.</param>
    /// <returns>The pump-out that they confirm, or null.</returns>
    internal PumpOutSeen? Take(ReadOnlySpan<Measurement> instant, FactsContext context)
    {
        DateTimeOffset at = instant[0].At;
        (double? latitude, double? longitude) = (null, null);
        bool hasUses = false;
        foreach (ref readonly Measurement measurement in instant)
        {
            switch (measurement.Name)
            {
                case MeasurementName.ControllerUptime:
                    TakeUptime(measurement.Value, at);
                    break;
                case MeasurementName.BatteryCharge:
                    Charge = new Reading(at, measurement.Value);
                    break;
                case MeasurementName.Latitude:
                    latitude = measurement.Value;
                    break;
                case MeasurementName.Longitude:
                    longitude = measurement.Value;
                    break;
                default:
                    hasUses |= Tools.ContainsKey(measurement.Name) || MeasurementName.ToolOfUses(measurement.Name) is not null;
                    break;
            }
        }

        StartCountingAnew(at, context);
        DateOnly day = context.DayOf(at).Date;
        if (Day < day)
        {
            foreach (ToolFacts tool in Tools.Values)
            {
                FallingUse.EndDay(tool);
            }
        }

        if (hasUses)
        {
            ToolUse.Take(this, instant, context);
        }

        if (latitude is { } north && longitude is { } east)
        {
            Position = MovedStation.Take(Position, north, east, at, context.Setup);
        }

        Charge = Power.Take(Charge, instant, day, context);
        LastAt = at;
        Day = day;
        return Tank.Take(instant, context);
    }

    private void TakeUptime(double seconds, DateTimeOffset at)
    {
        if (seconds < Uptime?.Value)
        {
            Restarts++;
        }

        Uptime = new Reading(at, seconds);

        // A nonsense uptime must not overflow the calendar.
        BootedAt = seconds >= 0 && seconds < (at - DateTimeOffset.UnixEpoch).TotalSeconds ? at.AddSeconds(-seconds) : null;
    }

    // What lies between the newest measurement and this one: tools hung up, quiet periods ended, people who looked.
    private void StartCountingAnew(DateTimeOffset at, FactsContext context)
    {
        foreach ((string name, DateTimeOffset installed) in context.Tools)
        {
            if (!Tools.TryGetValue(name, out ToolFacts? tool))
            {
                Tools.Add(name, new ToolFacts());
            }
            else if (LastAt < installed && installed <= at)
            {
                Tools[name] = new ToolFacts { Last = tool.Last };
            }
        }

        if (context.Quiet.LastEnd(at) is { } quietEnd && LastAt < quietEnd)
        {
            foreach (ToolFacts tool in Tools.Values)
            {
                tool.Run = [];
            }
        }

        foreach (ToolFinding finding in context.Findings)
        {
            if (LastAt < finding.At && finding.At <= at && Tools.TryGetValue(finding.Name, out ToolFacts? tool))
            {
                ToolShare.TakeFinding(tool, finding.WasFine);
                (tool.RunawayAt, tool.AloneReadings, tool.AloneSince) = (null, 0, null);
                tool.Falling = tool.Falling with { Score = 0, RaisedDays = 0 };
            }
        }

        if (context.TankSensorFindings.Any(finding => LastAt < finding && finding <= at))
        {
            Tank.Sensor = Tank.Sensor.SeenTo();
        }

        foreach (TicketFinding finding in context.PowerFindings)
        {
            if (LastAt < finding.At && finding.At <= at)
            {
                Power.TakeFinding(finding.Rule, finding.WasFine);
            }
        }

        foreach (DateTimeOffset finding in context.UnusedFindings)
        {
            if (LastAt < finding && finding <= at)
            {
                Sessions.UnknownUntil = finding;
            }
        }
    }
}
