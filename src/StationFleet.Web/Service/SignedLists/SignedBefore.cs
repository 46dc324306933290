using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.SignedLists;

/// <summary>Whether the checklist that something needs is signed; else the sentence that says what is missing.</summary>
internal static class SignedBefore
{
    /// <summary>A portable that stood somewhere before must be clean, and dry, before it stands anywhere again.</summary>
    /// <param name="db">The database.</param>
    /// <param name="station">The station.</param>
    /// <param name="last">Where it stood last; null when it has not stood anywhere.</param>
    /// <param name="at">When it is placed.</param>
    /// <param name="zone">For whom the sentence is.</param>
    /// <param name="cancel">Stops it.</param>
    public static async Task<string?> PlacingAsync(
        FleetDbContext db, Station station, Placement? last, DateTimeOffset at, TimeZoneInfo zone, CancellationToken cancel)
    {
        if (!station.IsPortable || last is null)
        {
            return null;
        }

        // A move of long ago is told by the list of then.
        SignedChecklist? signed = await db.SignedChecklists.AsNoTracking()
                .Where(row => row.StationId == station.Id && row.List == SignedList.CleanToMove && row.At > last.From && row.At <= at)
                .OrderByDescending(row => row.At).FirstOrDefaultAsync(cancel)
            ?? await ReadSignedLists.NewestAsync(db, station.Id, SignedList.CleanToMove, cancel);
        return signed is null || signed.At <= last.From
            ? $"Sign “clean to move” first ({Address(station.Code, SignedList.CleanToMove)}): it must not carry anything from one water to the next."
            : signed.At > at ? $"It was signed clean to move only {LocalTimes.Say(signed.At, zone)}. Place it after that."
            : signed.DryUntil > at ? $"It dries until {LocalTimes.Say(signed.DryUntil.Value, zone)}, as {signed.Who} wrote. Place it after that."
            : null;
    }

    /// <summary>A station goes into service after the winter once every tool is tested.</summary>
    /// <param name="db">The database.</param>
    /// <param name="station">The station.</param>
    /// <param name="laidUp">Since when it is laid up.</param>
    /// <param name="at">When it goes into service.</param>
    /// <param name="zone">For whom the sentence is.</param>
    /// <param name="cancel">Stops it.</param>
    public static async Task<string?> OpeningAsync(
        FleetDbContext db, Station station, DateTimeOffset laidUp, DateTimeOffset at, TimeZoneInfo zone, CancellationToken cancel)
    {
        SignedChecklist? signed = await ReadSignedLists.NewestAsync(db, station.Id, SignedList.SeasonOpening, cancel);
        return signed is null || signed.At <= laidUp
            ? $"Sign “season opening” first ({Address(station.Code, SignedList.SeasonOpening)}): every tool is tested before it is in service."
            : signed.At > at ? $"Its season opening was signed only {LocalTimes.Say(signed.At, zone)}. Put it in service after that."
            : null;
    }

    public static string Address(string code, SignedList list) => $"/stations/{code}/checklists/{Domain.Service.SignedLists.Slug(list)}";
}
