using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Makes a season's calendar the plan: from then on the watch tells when a sample falls due.</summary>
internal sealed class AcceptCalendar(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    internal sealed class Command
    {
        /// <summary>So many days before the last one it can be taken.</summary>
        public string Days { get; set; } = "7";

        public string Grabs { get; set; } = "3";

        public string Litres { get; set; } = "";
    }

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <param name="Planned">How many were planned.</param>
        /// <param name="Known">How many were planned before: a calendar that is accepted again plans nothing twice.</param>
        internal sealed record Accepted(int Planned, int Known) : Outcome;

        internal sealed record Refused(WrongFields Wrong) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, IReadOnlyList<PlannedSample> samples, Command command, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        Typed typed = new();
        double days = typed.Number(nameof(Command.Days), command.Days, 1, 60, "days");
        (int? grabs, double? litres) = SavePlanned.ReadGrabs(typed, command.Grabs, command.Litres);
        return typed.Wrong.Count > 0
            ? new Outcome.Refused(typed.Wrong)
            : await databases.WriteAsync(db => AcceptAsync(db, viewer, samples, (int)days, grabs, litres, cancel), cancel);
    }

    private async Task<Outcome> AcceptAsync(
        FleetDbContext db, Viewer viewer, IReadOnlyList<PlannedSample> samples, int days, int? grabs, double? litres, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DateOnly today = LocalCalendar.DateOf(now, options.Value.Zone);
        Dictionary<string, StationId> stations = await db.Stations.VisibleTo(viewer).ToDictionaryAsync(station => station.Code, station => station.Id, cancel);
        HashSet<(StationId, DateOnly)> planned = [.. (await ListPlanned.VisiblePlans(db, viewer).Where(plan => plan.Due >= today)
            .Select(plan => new { plan.StationId, plan.Due }).ToListAsync(cancel)).Select(plan => (plan.StationId, plan.Due))];
        SamplePlan[] fresh =
        [
            .. from sample in samples
               where sample.Due >= today && stations.ContainsKey(sample.Station) && planned.Add((stations[sample.Station], sample.Due))
               let first = sample.Due.AddDays(1 - days)
               select new SamplePlan
               {
                   StationId = stations[sample.Station], From = first < today ? today : first, Due = sample.Due, Grabs = grabs, LitresPerGrab = litres,
                   Reason = sample.Reason, PlannedAt = now, PlannedBy = viewer.Name,
               },
        ];
        db.SamplePlans.AddRange(fresh);
        return new Outcome.Accepted(fresh.Length, samples.Count - fresh.Length);
    }
}
