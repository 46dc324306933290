using StationFleet.Domain.Fleet;

namespace StationFleet.Storage.Fleet;

/// <summary>A station's setup through time: tools, power, time zone and known days are those of the instant that is asked for.</summary>
public sealed class StationSetupHistory
{
    /// <summary>The station.</summary>
    public required Station Station { get; init; }

    /// <summary>What does not depend on the instant: limits, tanks and dips, quiet times, what people did, our server's pauses.</summary>
    public required StationSetup Always { get; init; }

    /// <summary>Every tool that it ever had.</summary>
    public required IReadOnlyList<Tool> Tools { get; init; }

    /// <summary>When the setup becomes another one, in order.</summary>
    public IReadOnlyList<DateTimeOffset> Changes =>
    [
        .. Tools.SelectMany(tool => new[] { tool.Installed, tool.Removed })
            .Concat(Powers.Select(power => (DateTimeOffset?)power.From))
            .Concat(Placements.Select(placement => (DateTimeOffset?)placement.From))
            .OfType<DateTimeOffset>().Distinct().Order(),
    ];

    internal IReadOnlyList<Placement> Placements { get; init; } = [];

    internal IReadOnlyDictionary<AccessId, Access> Accesses { get; init; } = new Dictionary<AccessId, Access>();

    internal IReadOnlyList<StationPower> Powers { get; init; } = [];

    internal IReadOnlyList<KnownDays> KnownDays { get; init; } = [];

    internal TimeZoneInfo FleetZone { get; init; } = TimeZoneInfo.Utc;

    /// <summary>The setup at an instant.</summary>
    /// <param name="instant">Any instant.</param>
    public StationSetup At(DateTimeOffset instant)
    {
        Placement? last = LastPlacement(instant);
        return Always with
        {
            Zone = ZoneAt(instant),
            Tools =
            [
                .. Tools.Where(tool => tool.Installed <= instant && (tool.Removed is null || tool.Removed > instant))
                    .Select(tool => new ToolSetup(tool.Slug, tool.Kind, tool.Name, tool.Installed, tool.IdleAfterDays, tool.UsesWrapAt)),
            ],
            Power = Powers.LastOrDefault(power => power.From <= instant)?.ToSetup(),

            // A station that moves takes the events of the access where it stands now; those of all accesses go with it anyway.
            Events =
            [
                .. KnownDays.Where(known => known.AccessId is null || known.AccessId == last?.AccessId)
                    .Select(known => new KnownEvent(known.Name, known.FirstDay, known.LastDay, known.Factor)),
            ],
        };
    }

    /// <summary>The time zone at an instant; in transit a station keeps the days of the access that it came from.</summary>
    /// <param name="instant">Any instant.</param>
    public TimeZoneInfo ZoneAt(DateTimeOffset instant) => LastPlacement(instant) is { } last ? Accesses[last.AccessId].Zone : FleetZone;

    private Placement? LastPlacement(DateTimeOffset instant) => Placements.LastOrDefault(placement => placement.From <= instant);
}
