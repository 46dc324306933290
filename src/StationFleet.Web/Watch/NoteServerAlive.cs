using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Watch;

namespace StationFleet.Web.Watch;

/// <summary>Writes down that the server is alive, and, after a pause, that it was not: no station is to blame for that silence.</summary>
internal sealed class NoteServerAlive(IDbContextFactory<FleetDbContext> databases)
{
    private const string AliveSetting = "watch/alive";
    private static readonly TimeSpan LongestPause = TimeSpan.FromMinutes(45);

    public Task HandleAsync(DateTimeOffset now, CancellationToken cancel) => databases.WriteAsync(db => NoteAsync(db, now, cancel), cancel);

    private static async Task NoteAsync(FleetDbContext db, DateTimeOffset now, CancellationToken cancel)
    {
        Setting? alive = await db.Settings.SingleOrDefaultAsync(setting => setting.Name == AliveSetting, cancel);
        DateTimeOffset? last = alive is null ? null : DateTimeOffset.Parse(alive.Value, CultureInfo.InvariantCulture);
        if (now - last > LongestPause)
        {
            db.Add(new ServerDowntime { From = last!.Value, To = now });
        }

        if (alive is null)
        {
            alive = new Setting { Name = AliveSetting, Value = "" };
            db.Add(alive);
        }

        alive.Value = now.ToString("O", CultureInfo.InvariantCulture);
    }
}
