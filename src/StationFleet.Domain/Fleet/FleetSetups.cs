using StationFleet.Domain.Power;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Fleet;

/// <summary>What the watch needs to know, read from a fleet file instead of the database.</summary>
public static class FleetSetups
{
    /// <summary>A station's setup as it is at an instant, with all quiet periods that the file knows.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="code">The station's code.</param>
    /// <param name="at">The instant: tools, tank and battery are those of then.</param>
    public static StationSetup SetupOf(this FleetFile fleet, string code, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(fleet);
        FleetStation station = fleet.Stations.First(station => station.Code == code);
        FleetPower? power = station.Power.Where(power => (power.From ?? station.Created) <= at).MaxBy(power => power.From ?? station.Created);

        // In transit a station keeps the days of the access that it came from.
        FleetPlacement? placement = station.Placements.LastOrDefault(placement => placement.From <= at);
        string zone = fleet.Accesses.FirstOrDefault(access => access.Slug == placement?.Access)?.TimeZone ?? fleet.TimeZone;
        return new StationSetup(
            code,
            TimeZoneInfo.FindSystemTimeZoneById(zone),
            station.Created.ToUniversalTime(),
            TimeSpan.FromMinutes(station.ReportEveryMinutes),
            [
                .. station.Tools.Where(tool => (tool.Installed ?? station.Created) <= at && !(tool.Removed <= at))
                    .Select(tool => new ToolSetup(tool.Slug, tool.Kind, tool.Name, (tool.Installed ?? station.Created).ToUniversalTime(), tool.IdleAfterDays, tool.UsesWrapAt)),
            ],
            station.TankHistory,
            power is null ? null : new PowerSetup(
                power.Chemistry, power.CapacityAh, power.NominalVolts, power.PanelWatts, power.TiltDeg, power.AzimuthDeg)
            {
                HeightM = power.HeightM, RestTable = power.RestTable,
            },
            station.Rules ?? RuleSettings.Default,
            [.. Quiet(fleet, station).Select(quiet => quiet with { From = quiet.From.ToUniversalTime(), To = quiet.To?.ToUniversalTime() })])
        {
            Places =
            [
                .. from standing in station.Placements
                   let access = fleet.Accesses.First(access => access.Slug == standing.Access)
                   select new StandingPlace(
                       access.Name, access.Latitude, access.Longitude, standing.From.ToUniversalTime(), standing.To?.ToUniversalTime()),
            ],
            Events =
            [
                .. fleet.KnownDays.Where(known => known.Access is null || known.Access == placement?.Access).OrderBy(known => known.First)
                    .Select(known => new KnownEvent(known.Name, known.First, known.Last ?? known.First, known.Factor)),
            ],
        };
    }

    private static IEnumerable<QuietPeriod> Quiet(FleetFile fleet, FleetStation station)
    {
        foreach (FleetPeriod winter in station.Winter)
        {
            yield return new QuietPeriod(QuietReason.Winterized, winter.From, winter.To);
        }

        DateTimeOffset free = station.Created;
        foreach (FleetPlacement placement in station.Placements)
        {
            if (placement.From > free)
            {
                yield return new QuietPeriod(QuietReason.InTransit, free, placement.From);
            }

            free = placement.To ?? DateTimeOffset.MaxValue;
            foreach (FleetClosure closure in fleet.Accesses.First(access => access.Slug == placement.Access).Closures)
            {
                DateTimeOffset from = closure.From > placement.From ? closure.From : placement.From;
                DateTimeOffset? to = closure.To < placement.To || placement.To is null ? closure.To : placement.To;
                if (to is null || from < to)
                {
                    yield return new QuietPeriod(QuietReason.AccessClosed, from, to);
                }
            }
        }

        if (free < DateTimeOffset.MaxValue)
        {
            yield return new QuietPeriod(QuietReason.InTransit, free, null);
        }
    }
}
