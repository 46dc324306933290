using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Sampling;
using StationFleet.Domain.Time;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Sampling;
using StationFleet.Web.Accounts;
using StationFleet.Web.Fleet;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Sampling;

/// <summary>Plans a sample, changes one that is open, or says that it is not needed any more.</summary>
public sealed class SavePlanned(IDbContextFactory<FleetDbContext> databases, FleetClock clock, IOptions<FleetOptions> options)
{
    private const int MostDays = 60;

    public sealed class Command
    {
        /// <summary>The plan to change; null adds one.</summary>
        public int? Id { get; init; }

        /// <summary>The version that the form showed.</summary>
        public int Version { get; init; }

        public string Station { get; set; } = "";

        public string From { get; set; } = "";

        public string Due { get; set; } = "";

        public string Grabs { get; set; } = "3";

        public string Litres { get; set; } = "";
    }

    public sealed class Dismissal
    {
        public int Id { get; init; }

        public int Version { get; init; }

        public string Reason { get; set; } = "";
    }

    internal async Task<SampleAnswer> HandleAsync(Viewer viewer, Command command, CancellationToken cancel) => viewer.MayChangeFleet()
        ? await databases.WriteAsync(db => SaveAsync(db, viewer, command, cancel), cancel)
        : new SampleAnswer.NotAllowed();

    internal async Task<SampleAnswer> DismissAsync(Viewer viewer, Dismissal command, CancellationToken cancel)
    {
        Typed typed = new();
        string reason = typed.Text(nameof(Dismissal.Reason), command.Reason, 500, "Write why, for whoever wonders later.");
        return !viewer.MayChangeFleet() ? new SampleAnswer.NotAllowed()
            : typed.Wrong.Count > 0 ? new SampleAnswer.Refused(typed.Wrong)
            : await databases.WriteAsync(db => DismissAsync(db, viewer, command, reason, cancel), cancel);
    }

    private async Task<SampleAnswer> DismissAsync(FleetDbContext db, Viewer viewer, Dismissal command, string reason, CancellationToken cancel)
    {
        (SamplePlan? plan, SampleAnswer? answer) = await FindAsync(db, viewer, command.Id, command.Version, cancel);
        if (plan is not null)
        {
            (plan.DismissedAt, plan.DismissedBy, plan.DismissedFor) = (clock.GetUtcNow(), viewer.Name, reason);
            plan.Version++;
        }

        return answer;
    }

    private async Task<SampleAnswer> SaveAsync(FleetDbContext db, Viewer viewer, Command command, CancellationToken cancel)
    {
        DateTimeOffset now = clock.GetUtcNow();
        DateOnly today = LocalCalendar.DateOf(now, options.Value.Zone);
        SamplePlan? plan = null;
        if (command.Id is { } id)
        {
            (plan, SampleAnswer answer) = await FindAsync(db, viewer, id, command.Version, cancel);
            if (plan is null)
            {
                return answer;
            }
        }

        Typed typed = new();
        Station? station = plan is null
            ? await db.Stations.VisibleTo(viewer).SingleOrDefaultAsync(row => row.Code == command.Station, cancel)
            : await db.Stations.SingleAsync(row => row.Id == plan.StationId, cancel);
        if (station is null)
        {
            typed.Wrong.Note(nameof(Command.Station), "Choose the station.");
        }

        DateOnly earliest = plan is { } known && known.From < today ? known.From : today;
        DateOnly from = typed.Day(nameof(Command.From), command.From, earliest, today.AddDays(400));
        DateOnly due = typed.Day(nameof(Command.Due), command.Due, today, today.AddDays(400 + MostDays));
        if (typed.Wrong.Count == 0 && (due < from || due.DayNumber - from.DayNumber > MostDays))
        {
            typed.Wrong.Note(nameof(Command.Due), string.Create(CultureInfo.InvariantCulture, $"Write the first day itself or one up to {MostDays} days after it."));
        }

        (int? grabs, double? litres) = ReadGrabs(typed, command.Grabs, command.Litres);
        if (typed.Wrong.Count > 0)
        {
            return new SampleAnswer.Refused(typed.Wrong);
        }

        if (plan is null)
        {
            db.SamplePlans.Add(new SamplePlan
            {
                StationId = station!.Id, From = from, Due = due, Grabs = grabs, LitresPerGrab = litres, PlannedAt = now, PlannedBy = viewer.Name,
            });
            return new SampleAnswer.Saved();
        }

        (plan.From, plan.Due, plan.Grabs, plan.LitresPerGrab, plan.ChangedAt, plan.ChangedBy) = (from, due, grabs, litres, now, viewer.Name);
        plan.Version++;
        return new SampleAnswer.Saved();
    }

    /// <summary>How many grabs of how many litres; what is empty is not said.</summary>
    internal static (int? Grabs, double? Litres) ReadGrabs(Typed typed, string grabs, string litres)
    {
        double? count = typed.NumberOrNothing(nameof(Command.Grabs), grabs, 1, SampleCode.MostGrabs, "grabs");
        if (count is { } typedCount && double.IsFinite(typedCount) && typedCount != Math.Floor(typedCount))
        {
            typed.Wrong.Note(nameof(Command.Grabs), "Write a whole number.");
        }

        double? each = typed.NumberOrNothing(nameof(Command.Litres), litres, 0.01, 200, "L");
        return (typed.Wrong.Count == 0 ? (int?)count : null, each);
    }

    // An ended plan stays as it is: whether it was taken follows from the samples.
    private static async Task<(SamplePlan? Plan, SampleAnswer Answer)> FindAsync(
        FleetDbContext db, Viewer viewer, int id, int version, CancellationToken cancel)
    {
        SamplePlanId wanted = new(id);
        SamplePlan? plan = await db.SamplePlans.SingleOrDefaultAsync(
            row => row.Id == wanted && row.DismissedAt == null && db.Stations.VisibleTo(viewer).Any(station => station.Id == row.StationId), cancel);
        return plan is null ? (null, new SampleAnswer.NotAllowed())
            : plan.Version != version ? (null, new SampleAnswer.Changed())
            : (plan, new SampleAnswer.Saved());
    }
}
