using System.Text.RegularExpressions;

namespace StationFleet.Domain.Fleet;

/// <summary>What a JSON Schema cannot say of a fleet file: that names meet, and that times stand in order.</summary>
internal static partial class FleetFileCheck
{
    private static readonly string[] Roles = ["Biologist", "Technician", "Supervisor", "Administrator", "Steward"];

    public static IReadOnlyList<string> FaultsOf(FleetFile fleet) =>
    [
        .. Zones(fleet), .. Seasons(fleet), .. People(fleet), .. Accesses(fleet), .. Yards(fleet), .. KnownDays(fleet),
        .. Twice(fleet.Stations.Select(station => station.Code), "The station code"),
        .. fleet.Stations.SelectMany(station => Station(fleet, station)),
        .. fleet.Simulation is { } simulation ? Simulation(fleet, simulation) : [],
    ];

    private static IEnumerable<string> Zones(FleetFile fleet) =>
        from zone in fleet.Accesses.Select(access => access.TimeZone).Append(fleet.TimeZone).OfType<string>().Distinct()
        where !TimeZoneInfo.TryFindSystemTimeZoneById(zone, out _)
        select $"The time zone '{zone}' is not known; use an IANA name such as America/Boise.";

    private static IEnumerable<string> Seasons(FleetFile fleet) =>
        from season in fleet.Seasons
        where season.To < season.From
        select $"The season {season.Name} ends before it begins.";

    private static IEnumerable<string> People(FleetFile fleet) =>
        fleet.People.Where(person => !Roles.Contains(person.Role))
            .Select(person => $"{person.Email} has the role '{person.Role}', which is none of {string.Join(", ", Roles)}.")
            .Concat(Twice(fleet.People.Select(person => person.Email), "The address"));

    private static IEnumerable<string> Yards(FleetFile fleet) => fleet.Yards
        .Where(yard => Math.Abs(yard.Latitude) > 90 || Math.Abs(yard.Longitude) > 180)
        .Select(yard => $"The yard '{yard.Name}' lies outside the earth: check its latitude and longitude.")
        .Concat(Twice(fleet.Yards.Select(yard => yard.Name), "The yard"));

    private static IEnumerable<string> KnownDays(FleetFile fleet)
    {
        foreach (FleetKnownDays known in fleet.KnownDays)
        {
            if (!(known.Factor > 0 && double.IsFinite(known.Factor)))
            {
                yield return $"The factor of the known days '{known.Name}' must be above 0.";
            }

            if (known.Last < known.First || known.Last?.DayNumber - known.First.DayNumber > 60)
            {
                yield return $"The known days '{known.Name}' end before they begin, or last longer than 60 days.";
            }

            if (known.Access is { } slug && fleet.Accesses.All(access => access.Slug != slug))
            {
                yield return $"The known days '{known.Name}' name the access '{slug}', which is not in this file.";
            }
        }
    }

    private static IEnumerable<string> Accesses(FleetFile fleet)
    {
        HashSet<string> agencies = [.. fleet.Agencies.Select(agency => agency.Name)];
        foreach (FleetAccess access in fleet.Accesses)
        {
            if (!SlugPattern().IsMatch(access.Slug))
            {
                yield return $"The access name '{access.Slug}' may hold only lower-case letters, digits and hyphens.";
            }

            if (!agencies.Contains(access.Host))
            {
                yield return $"The access {access.Slug} is hosted by '{access.Host}', which is no agency of this file.";
            }

            if (Math.Abs(access.Latitude) > 90 || Math.Abs(access.Longitude) > 180)
            {
                yield return $"The access {access.Slug} lies outside the globe.";
            }

            foreach (FleetClosure closure in access.Closures.Where(closure => closure.To <= closure.From))
            {
                yield return $"A closure of {access.Slug} from {closure.From:yyyy-MM-dd HH:mm} ends before it begins.";
            }
        }

        foreach (string fault in Twice(fleet.Accesses.Select(access => access.Slug), "The access name"))
        {
            yield return fault;
        }
    }

    private static IEnumerable<string> Station(FleetFile fleet, FleetStation station)
    {
        string code = station.Code;
        HashSet<string> agencies = [.. fleet.Agencies.Select(agency => agency.Name)];
        if (!CodePattern().IsMatch(code))
        {
            yield return $"The station code '{code}' may hold only capital letters, digits and hyphens.";
        }

        foreach (string agency in new[] { station.Owner, station.Operator ?? station.Owner }.Distinct().Where(name => !agencies.Contains(name)))
        {
            yield return $"Station {code} names the agency '{agency}', which is not in this file.";
        }

        if (station.ReportEveryMinutes < 1)
        {
            yield return $"Station {code} must report at least a minute apart.";
        }

        foreach (FleetTool tool in station.Tools.Where(tool => !SlugPattern().IsMatch(tool.Slug)))
        {
            yield return $"The tool name '{tool.Slug}' of {code} may hold only lower-case letters, digits and hyphens.";
        }

        foreach (string fault in Twice(station.Tools.Where(tool => tool.Removed is null).Select(tool => tool.Slug), $"At {code} the tool name"))
        {
            yield return fault;
        }

        foreach (string fault in station.Tanks.Select(Fault).Concat(station.Calibrations.Select(c => c.ToCalibration().Fault())).OfType<string>())
        {
            yield return $"Station {code}: {fault}";
        }

        if (station.Power.Any(power => power.CapacityAh <= 0 || power.NominalVolts <= 0 || power.PanelWatts < 0))
        {
            yield return $"A battery or panel of {code} has no size.";
        }

        foreach (string fault in Placements(fleet, station))
        {
            yield return fault;
        }
    }

    private static string? Fault(FleetTank tank) => tank switch
    {
        { CapacityLitres: <= 0 } => "A tank has no capacity.",
        { Shape: not null, HeightM: not null } => "A tank has a height or a shape, not both.",
        { SensorUncertainty: <= 0 or > 1 } => "The sensor's uncertainty is a share of capacity between 0 and 1.",
        { Shape: { } shape } when shape.Fault() is { } fault => fault,
        { Shape: null, HeightM: null, SensorHeightM: not null } => "A distance sensor needs the tank's height or shape too.",
        _ => tank.ToSetup() is { Shape: { } shape, SensorHeightM: { } sensorM } && sensorM < shape.LevelAt(tank.CapacityLitres)
            ? "The sensor must hang above the liquid in a full tank."
            : null,
    };

    private static IEnumerable<string> Placements(FleetFile fleet, FleetStation station)
    {
        foreach (FleetPlacement placement in station.Placements.Where(p => fleet.Accesses.All(access => access.Slug != p.Access)))
        {
            yield return $"Station {station.Code} stands at '{placement.Access}', which is no access of this file.";
        }

        foreach ((FleetPlacement first, FleetPlacement next) in station.Placements.Zip(station.Placements.Skip(1)))
        {
            if (first.To is not { } end || end > next.From)
            {
                yield return $"Station {station.Code} stands at {first.Access} and {next.Access} at the same time.";
            }
        }

        if (station.Placements.Any(p => p.To <= p.From) || station.Winter.Any(p => p.To <= p.From))
        {
            yield return $"A placement or winter of {station.Code} ends before it begins.";
        }
    }

    private static IEnumerable<string> Simulation(FleetFile fleet, FleetSimulation simulation)
    {
        HashSet<string> codes = [.. fleet.Stations.Select(station => station.Code)];
        HashSet<string> tools = [.. fleet.Stations.SelectMany(station => station.Tools.Select(tool => $"{station.Code}/{tool.Slug}"))];
        IEnumerable<string> unknownStations = simulation.Faults.Select(fault => fault.Station)
            .Concat(simulation.Visits.Select(visit => visit.Station))
            .Where(code => !codes.Contains(code));
        IEnumerable<string> unknownTools = simulation.Tools.Keys
            .Concat(simulation.Faults.Where(fault => IsOfTool(fault.Kind)).Select(fault => $"{fault.Station}/{fault.Tool}"))
            .Concat(simulation.Visits.Where(visit => visit.ReplaceTool is not null).Select(visit => $"{visit.Station}/{visit.ReplaceTool}"))
            .Where(tool => !tools.Contains(tool));
        return unknownStations.Distinct().Select(code => $"The simulation names the station '{code}', which is not in this file.")
            .Concat(unknownTools.Distinct().Select(tool => $"The simulation names the tool '{tool}', which is not in this file."))
            .Concat(simulation.BoatsPerDay.Keys.Concat(simulation.Faults.Select(fault => fault.Access).OfType<string>()).Where(slug => fleet.Accesses.All(access => access.Slug != slug))
                .Select(slug => $"The simulation names the access '{slug}', which is not in this file."))
            .Concat(simulation.BoatsPerDay.Values.Any(boats => boats < 0) ? ["The simulation has fewer than no boats at an access."] : []);
    }

    private static bool IsOfTool(FaultKind kind) =>
        kind is FaultKind.ToolMissing or FaultKind.ToolDead or FaultKind.ToolWeak or FaultKind.CounterRunaway;

    private static IEnumerable<string> Twice(IEnumerable<string> names, string what) =>
        names.GroupBy(name => name, StringComparer.OrdinalIgnoreCase)
            .Where(group => group.Count() > 1)
            .Select(group => $"{what} '{group.Key}' stands there twice.");

    [GeneratedRegex("^[a-z0-9]+(-[a-z0-9]+)*$")]
    private static partial Regex SlugPattern();

    [GeneratedRegex("^[A-Z0-9]+(-[A-Z0-9]+)*$")]
    private static partial Regex CodePattern();
}
