using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Watch;

/// <summary>The budget of unplanned visits, as people set it on the page that judges the watch.</summary>
internal static class FieldBudgets
{
    private const string SettingName = "watch/field-budget";

    public static async Task<FieldBudget> ReadAsync(FleetDbContext db, CancellationToken cancel) =>
        await db.Settings.Where(setting => setting.Name == SettingName).Select(setting => setting.Value).SingleOrDefaultAsync(cancel) is { } json
            ? JsonSerializer.Deserialize<FieldBudget>(json) ?? new FieldBudget()
            : new FieldBudget();

    public static async Task WriteAsync(FleetDbContext db, FieldBudget budget, CancellationToken cancel)
    {
        string json = JsonSerializer.Serialize(budget);
        if (await db.Settings.SingleOrDefaultAsync(setting => setting.Name == SettingName, cancel) is { } setting)
        {
            setting.Value = json;
        }
        else
        {
            db.Settings.Add(new Setting { Name = SettingName, Value = json });
        }
    }
}
