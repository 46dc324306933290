using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Platform.Demo;

/// <summary>What the demo must know after a restart, kept among the settings.</summary>
internal sealed class DemoMemory(IDbContextFactory<FleetDbContext> databases)
{
    private const string FedUpTo = "demo.fed-up-to";
    private const string SeasonLoaded = "demo.loaded.";

    /// <summary>Up to when the stations have reported; null before the first start is complete.</summary>
    public async Task<DateTimeOffset?> FedUpToAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        string? text = await db.Settings.Where(setting => setting.Name == FedUpTo).Select(setting => setting.Value).FirstOrDefaultAsync(cancel);
        return text is null ? null : DateTimeOffset.Parse(text, CultureInfo.InvariantCulture);
    }

    public Task SetFedUpToAsync(DateTimeOffset at, CancellationToken cancel) => databases.WriteAsync(
        db => SetAsync(db, FedUpTo, at.ToString("O", CultureInfo.InvariantCulture), cancel), cancel);

    public async Task<bool> IsLoadedAsync(FleetSeason season, CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Settings.AnyAsync(setting => setting.Name == SeasonLoaded + season.Name, cancel);
    }

    /// <summary>Notes in the caller's transaction that a season is loaded.</summary>
    public static Task NoteLoadedAsync(FleetDbContext db, FleetSeason season, CancellationToken cancel) =>
        SetAsync(db, SeasonLoaded + season.Name, "yes", cancel);

    public async Task<Dictionary<string, StationId>> StationsAsync(CancellationToken cancel)
    {
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        return await db.Stations.ToDictionaryAsync(station => station.Code, station => station.Id, cancel);
    }

    private static async Task SetAsync(FleetDbContext db, string name, string value, CancellationToken cancel)
    {
        if (await db.Settings.FirstOrDefaultAsync(setting => setting.Name == name, cancel) is { } known)
        {
            known.Value = value;
        }
        else
        {
            db.Add(new Setting { Name = name, Value = value });
        }
    }
}
