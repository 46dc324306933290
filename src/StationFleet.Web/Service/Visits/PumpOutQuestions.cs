using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Domain.Tanks;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Visits;

/// <summary>Emptied tanks of the last month that only a sensor saw: nobody wrote them down, and this person was not asked yet.</summary>
internal sealed class PumpOutQuestions(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private static readonly TimeSpan Asked = TimeSpan.FromDays(30);

    /// <param name="Said">What others said, and who was there about then; in sentences.</param>
    internal sealed record Question(StationId StationId, string Station, DateTimeOffset At, double Litres, string When, string Amount, IReadOnlyList<string> Said);

    public async Task<IReadOnlyList<Question>> HandleAsync(Viewer viewer, CancellationToken cancel)
    {
        if (!TicketDesk.MayAct(viewer))
        {
            return [];
        }

        DateTimeOffset now = clock.GetUtcNow();
        DateTimeOffset since = now - Asked;
        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        db.ChangeTracker.QueryTrackingBehavior = QueryTrackingBehavior.NoTracking;
        var stations = await db.Stations.VisibleTo(viewer).OrderBy(station => station.Code).Select(station => new { station.Id, station.Code }).ToListAsync(cancel);
        StationId[] ids = [.. stations.Select(station => station.Id)];
        ILookup<StationId, PumpOut> pumpOuts = (await db.PumpOuts.Where(row => ids.Contains(row.StationId) && row.At > since).ToListAsync(cancel)).ToLookup(row => row.StationId);
        var answers = (await db.PumpOutAnswers.Where(answer => answer.PumpOutAt > since).ToListAsync(cancel)).ToLookup(answer => (answer.StationId, answer.PumpOutAt));
        var visits = (await db.ServiceVisits.Where(visit => ids.Contains(visit.StationId) && visit.At > since - PumpOuts.SameWithin)
            .Select(visit => new { visit.StationId, visit.At, visit.Who }).ToListAsync(cancel)).ToLookup(visit => visit.StationId);
        IReadOnlyDictionary<StationId, TankHistory> tanks = await db.TankHistoriesAsync(cancel);
        return
        [
            .. from station in stations
               let tank = tanks.GetValueOrDefault(station.Id) ?? new TankHistory([], [])
               from seen in PumpOuts.Count(pumpOuts[station.Id].Select(row => row.ToRecord(tank, [])))
               where seen.Witness == PumpOutWitness.Sensor
               let said = answers[(station.Id, seen.At)].ToList()
               where !said.Exists(answer => answer.WasThem || answer.PersonId == viewer.UserId)
               orderby seen.At descending
               select new Question(
                   station.Id, station.Code, seen.At, seen.Litres,
                   SpokenTime.At(seen.At, now, options.Value.Zone),
                   $"{NumberWords.Brief(Units.VolumeFor(seen.Litres, options.Value.Units))} {Units.VolumeUnit(options.Value.Units)}",
                   [
                       .. visits[station.Id].Where(visit => (visit.At - seen.At).Duration() <= PumpOuts.SameWithin)
                           .Select(visit => $"{visit.Who} was there, {SpokenTime.At(visit.At, now, options.Value.Zone)}."),
                       .. said.Select(answer => $"{answer.Who} said: it was not me."),
                   ]),
        ];
    }
}
