using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service.Routes;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Service.Routes;

/// <summary>What days on the road are reckoned with, as people set it in the Office.</summary>
internal static class RouteSettingsStore
{
    private const string Name = "service/route";
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { Converters = { new JsonStringEnumConverter() } };

    public static async Task<RouteSettings> ReadAsync(FleetDbContext db, CancellationToken cancel) =>
        await db.Settings.Where(setting => setting.Name == Name).Select(setting => setting.Value).SingleOrDefaultAsync(cancel) is { } json
            ? JsonSerializer.Deserialize<RouteSettings>(json, Json) ?? new RouteSettings()
            : new RouteSettings();

    public static async Task WriteAsync(FleetDbContext db, RouteSettings settings, CancellationToken cancel)
    {
        string json = JsonSerializer.Serialize(settings, Json);
        if (await db.Settings.SingleOrDefaultAsync(setting => setting.Name == Name, cancel) is { } known)
        {
            known.Value = json;
        }
        else
        {
            db.Settings.Add(new Setting { Name = Name, Value = json });
        }
    }
}
