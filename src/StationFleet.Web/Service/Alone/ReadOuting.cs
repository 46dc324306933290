using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Duty;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Alone;

/// <summary>Whether the person is out, until when, and who would be told.</summary>
internal sealed class ReadOuting(
    IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> fleet, IOptions<DutyOptions> duty)
{
    /// <param name="Sentence">Until when the person is expected; null: the person is not out.</param>
    /// <param name="Told">The names of those who would be told.</param>
    /// <param name="Minutes">How late somebody is before they are told.</param>
    /// <param name="ZoneId">By whose clock the time is meant.</param>
    internal sealed record View(string? Sentence, IReadOnlyList<string> Told, double Minutes, string ZoneId);

    public async Task<View> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        Outing? outing = await db.Outings.AsNoTracking().FirstOrDefaultAsync(row => row.PersonId == viewer.UserId && row.Back == null, cancel);
        TimeZoneInfo zone = await OutingZone.OfAsync(db, fleet.Value, cancel);
        Crew crew = await Crew.ReadAsync(db, duty.Value, cancel);
        return new View(
            outing is null ? null : $"Expected back {SpokenTime.At(outing.ExpectedBack, now, zone)}{(outing.Where.Length > 0 ? $": {outing.Where}" : "")}.{(outing.Told is null ? "" : " Somebody was told that you are late.")}",
            [.. WhoIsTold.Of(crew, viewer.UserId).Select(member => member.Name)],
            duty.Value.TellLateAfterMinutes,
            zone.Id);
    }
}
