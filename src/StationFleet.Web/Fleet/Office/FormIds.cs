using System.Globalization;
using StationFleet.Domain.Fleet;

namespace StationFleet.Web.Fleet.Office;

/// <summary>Ids as the options of a choice write them.</summary>
internal static class FormIds
{
    public static string Of(AgencyId id) => id.Value.ToString(CultureInfo.InvariantCulture);

    public static string Of(AccessId id) => id.Value.ToString(CultureInfo.InvariantCulture);

    public static AgencyId? Agency(string? typed) => Read(typed) is { } value ? new AgencyId(value) : null;

    public static AccessId? Access(string? typed) => Read(typed) is { } value ? new AccessId(value) : null;

    private static int? Read(string? typed) =>
        int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : null;
}
