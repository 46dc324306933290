using StationFleet.Domain.Fleet;
using StationFleet.Domain.Service;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Domain.Watch;

namespace StationFleet.Storage.Fleet;

/// <summary>A station's setup through time: tools, power and time zone are those of the instant that is asked for.</summary>
public sealed class StationSetupHistory
{
    private static readonly TimeSpan ServerDownKept = TimeSpan.FromDays(31);

    public required Station Station { get; init; }

    /// <summary>In order, as are the powers and the known days.</summary>
    public required IReadOnlyList<Placement> Placements { get; init; }

    public required IReadOnlyDictionary<AccessId, Access> Accesses { get; init; }

    public required TimeZoneInfo FleetZone { get; init; }

    public required IReadOnlyList<Tool> Tools { get; init; }

    public required TankHistory Tank { get; init; }

    public required IReadOnlyList<TankDip> Dips { get; init; }

    public required IReadOnlyList<StationPower> Powers { get; init; }

    public required RuleSettings Rules { get; init; }

    public required IReadOnlyList<QuietPeriod> Quiet { get; init; }

    public required ServiceLog Service { get; init; }

    public required IReadOnlyList<KnownDays> KnownDays { get; init; }

    public required IReadOnlyList<UtcInterval> ServerDown { get; init; }

    /// <summary>When the setup becomes another one, in order.</summary>
    public IReadOnlyList<DateTimeOffset> Changes =>
    [
        .. Tools.SelectMany(tool => new[] { tool.Installed, tool.Removed })
            .Concat(Powers.Select(power => (DateTimeOffset?)power.From))
            .Concat(Placements.Select(placement => (DateTimeOffset?)placement.From))
            .OfType<DateTimeOffset>().Distinct().Order(),
    ];

    /// <summary>The setup at an instant. Tanks, dips, when the station need not work, and what people did, are told as a whole.</summary>
    /// <param name="instant">Any instant.</param>
    public StationSetup At(DateTimeOffset instant)
    {
        // In transit a station keeps the days of the access that it came from.
        Access? access = Placements.LastOrDefault(placement => placement.From <= instant) is { } last ? Accesses[last.AccessId] : null;
        StationPower? power = Powers.LastOrDefault(row => row.From <= instant);
        return new StationSetup(
            Station.Code,
            access?.Zone ?? FleetZone,
            Station.Created,
            Station.ReportEvery,
            [
                .. Tools.Where(tool => tool.Installed <= instant && (tool.Removed is null || tool.Removed > instant))
                    .Select(tool => new ToolSetup(tool.Slug, tool.Kind, tool.Name, tool.Installed, tool.IdleAfterDays)),
            ],
            Tank,
            power?.ToSetup(),
            Rules,
            Quiet)
        {
            Dips = Dips,
            Places =
            [
                .. from placement in Placements
                   let place = Accesses[placement.AccessId]
                   select new StandingPlace(place.Name, place.Latitude, place.Longitude, placement.From, placement.To),
            ],
            Service = Service,

            // A station that moves takes the events of the access where it stands now; those of all accesses go with it anyway.
            Events =
            [
                .. KnownDays.Where(known => known.AccessId is null || known.AccessId == access?.Id)
                    .Select(known => new KnownEvent(known.Name, known.FirstDay, known.LastDay, known.Factor)),
            ],
            ServerDown = [.. ServerDown.Where(down => down.End > instant - ServerDownKept)],
        };
    }
}
