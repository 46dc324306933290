using System.Globalization;
using Microsoft.AspNetCore.WebUtilities;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Service.Routes;

/// <summary>What people chose for a day, as the address of the page and of its calendar carries it; what cannot be read is not chosen.</summary>
public sealed record RouteQuery
{
    /// <summary>Whose day; null is nobody's in particular: all open tickets.</summary>
    public string? Person { get; init; }

    /// <summary>The local day; null is today, or tomorrow when the day is over.</summary>
    public DateOnly? Day { get; init; }

    public TimeOnly? StartsAt { get; init; }

    public double? Hours { get; init; }

    public int? StartYard { get; init; }

    public int? EndYard { get; init; }

    /// <summary>Accesses that are left out.</summary>
    public IReadOnlyList<AccessId> Without { get; init; } = [];

    /// <summary>Accesses that are added, though nothing is open there.</summary>
    public IReadOnlyList<AccessId> With { get; init; } = [];

    public static RouteQuery From(string? query)
    {
        Dictionary<string, Microsoft.Extensions.Primitives.StringValues> read = QueryHelpers.ParseQuery(query ?? "");
        return new RouteQuery
        {
            Person = Text("person"),
            Day = DateOnly.TryParseExact(Text("day"), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day) ? day : null,
            StartsAt = TimeOnly.TryParseExact(Text("start"), "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out TimeOnly start) ? start : null,
            Hours = double.TryParse(Text("hours"), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double hours) && hours is > 0 and <= 24 ? hours : null,
            StartYard = Whole("from"),
            EndYard = Whole("to"),
            Without = Accesses("without"),
            With = Accesses("with"),
        };

        string? Text(string name) => read.TryGetValue(name, out var value) && value.ToString() is { Length: > 0 } text ? text : null;
        int? Whole(string name) => int.TryParse(Text(name), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : null;
        IReadOnlyList<AccessId> Accesses(string name) => read.TryGetValue(name, out var values)
            ? [.. values.Select(value => int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out int id) ? id : 0).Where(id => id > 0).Distinct().Select(id => new AccessId(id))]
            : [];
    }

    /// <summary>The same as an address carries it: empty, or with its question mark.</summary>
    public string ToText()
    {
        List<KeyValuePair<string, string?>> parts =
        [
            new("person", Person), new("day", Day?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
            new("start", StartsAt?.ToString("HH:mm", CultureInfo.InvariantCulture)), new("hours", Hours?.ToString(CultureInfo.InvariantCulture)),
            new("from", StartYard?.ToString(CultureInfo.InvariantCulture)), new("to", EndYard?.ToString(CultureInfo.InvariantCulture)),
            .. Without.Select(access => new KeyValuePair<string, string?>("without", access.Value.ToString(CultureInfo.InvariantCulture))),
            .. With.Select(access => new KeyValuePair<string, string?>("with", access.Value.ToString(CultureInfo.InvariantCulture))),
        ];
        return QueryHelpers.AddQueryString("", parts.Where(part => part.Value is not null));
    }

    /// <summary>A technician who chose nothing sees their own day.</summary>
    public RouteQuery OrOwnDayOf(Viewer viewer) =>
        this == new RouteQuery() && viewer.Roles.Contains(FleetRoles.Technician) ? this with { Person = viewer.UserId } : this;

    public RouteQuery LeavingOut(AccessId access) => this with { Without = [.. Without.Append(access).Distinct()], With = [.. With.Where(one => one != access)] };

    public RouteQuery TakingBack(AccessId access) => this with { Without = [.. Without.Where(one => one != access)] };

    public RouteQuery Adding(AccessId access) => TakingBack(access) with { With = [.. With.Append(access).Distinct()] };
}
