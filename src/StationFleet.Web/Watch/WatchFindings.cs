using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Service;
using StationFleet.Storage.Watch;

namespace StationFleet.Web.Watch;

/// <summary>What one run over one station found, and how it goes into the database: all of it or nothing.</summary>
internal sealed record WatchFindings(
    StationId Station,
    StationSetup Setup,
    DateTimeOffset StartedFrom,
    long LastReportId,
    WatchState State,
    StationAhead Ahead,
    WatchResult Result,
    DateTimeOffset Now)
{
    /// <summary>Whether nothing is to be kept but how far the watch has got.</summary>
    /// <param name="known">The problems that are on, as they are kept.</param>
    public bool IsUneventful(IReadOnlyList<ProblemRow> known) =>
        Result is { Checkpoints.Count: 0, PumpOuts.Count: 0, FoldedAgainFrom: null, PumpOutsFrom: null }
        && Result.Steps.All(step => step is { Cleared.Count: 0, Problems.Count: 0 })
        && (Result.Problems is not { } problems || (problems.Count == known.Count && problems.All(problem => known.Any(row => IsKept(problem, row)))));

    private static bool IsKept(Problem problem, ProblemRow row) =>
        (row.Rule, row.Part, row.Urgency, row.Since) == (problem.Rule, problem.Part, problem.Urgency, problem.Since)
        && row.Evidence == WatchJson.Write(problem.Evidence);

    /// <summary>Keeps how far the watch has got with stations at which nothing happened, all in one transaction.</summary>
    public static async Task MovePositionsAsync(FleetDbContext db, IReadOnlyList<WatchFindings> uneventful, CancellationToken cancel)
    {
        foreach (WatchFindings findings in uneventful)
        {
            string state = WatchJson.Write(findings.State);
            string ahead = WatchJson.Write(findings.Ahead);

            // A position that another run has moved meanwhile stays as it is: that run goes on from there.
            await db.WatchPositions.Where(position => position.StationId == findings.Station && position.EvaluatedTo == findings.StartedFrom)
                .ExecuteUpdateAsync(row => row
                    .SetProperty(position => position.LastReportId, findings.LastReportId)
                    .SetProperty(position => position.EvaluatedTo, findings.State.EvaluatedTo)
                    .SetProperty(position => position.PanelRatio, findings.State.Facts.Power.PanelRatio)
                    .SetProperty(position => position.Ahead, ahead)
                    .SetProperty(position => position.State, state), cancel);
        }
    }

    /// <returns>How many tickets were raised or reopened.</returns>
    public async Task<int> WriteAsync(FleetDbContext db, CancellationToken cancel)
    {
        await MovePositionAsync(db, cancel);
        await KeepCheckpointsAsync(db, cancel);
        await KeepPumpOutsAsync(db, cancel);
        await KeepProblemsAsync(db, cancel);

        TicketWriter tickets = await TicketWriter.LoadAsync(db, this, cancel);
        int raised = await tickets.ApplyAsync(cancel);
        await db.SaveChangesAsync(cancel);
        return raised;
    }

    private async Task MovePositionAsync(FleetDbContext db, CancellationToken cancel)
    {
        WatchPosition? position = await db.WatchPositions.SingleOrDefaultAsync(p => p.StationId == Station, cancel);
        if (position is null)
        {
            position = new WatchPosition { StationId = Station, State = "" };
            db.Add(position);
        }
        else if (position.EvaluatedTo != StartedFrom)
        {
            throw new InvalidOperationException($"Another run has watched station {Station.Value} meanwhile; this one writes nothing.");
        }

        (position.LastReportId, position.EvaluatedTo, position.State) = (LastReportId, State.EvaluatedTo, WatchJson.Write(State));
        (position.PanelRatio, position.Ahead) = (State.Facts.Power.PanelRatio, WatchJson.Write(Ahead));
    }

    private async Task KeepCheckpointsAsync(FleetDbContext db, CancellationToken cancel)
    {
        IQueryable<WatchCheckpoint> kept = db.WatchCheckpoints.Where(checkpoint => checkpoint.StationId == Station);
        if (Result.FoldedAgainFrom is { } from)
        {
            await kept.Where(checkpoint => checkpoint.AsOf >= from).ExecuteDeleteAsync(cancel);
        }

        DateOnly[] days = [.. Result.Checkpoints.Select(checkpoint => checkpoint.Day)];
        await kept.Where(checkpoint => days.Contains(checkpoint.Day)).ExecuteDeleteAsync(cancel);
        db.AddRange(Result.Checkpoints.Select(checkpoint => new WatchCheckpoint
        {
            StationId = Station, Day = checkpoint.Day, AsOf = checkpoint.AsOf, State = WatchJson.Write(checkpoint.Facts),
        }));
    }

    private async Task KeepPumpOutsAsync(FleetDbContext db, CancellationToken cancel)
    {
        if (Result.PumpOuts.Count == 0 && Result.PumpOutsFrom is null)
        {
            return;
        }

        DateTimeOffset from = Result.PumpOutsFrom ?? Result.PumpOuts[0].At;
        List<PumpOut> kept = await db.PumpOuts
            .Where(p => p.StationId == Station && p.Source == PumpOutSource.Telemetry && p.At >= from).ToListAsync(cancel);
        db.RemoveRange(kept);

        // The unique index does not let the same instant be written before the old row is gone.
        await db.SaveChangesAsync(cancel);
        db.AddRange(Result.PumpOuts.Select(seen =>
            PumpOut.Seen(Station, seen, Setup.Tank, kept.Find(pumpOut => pumpOut.At == seen.At)?.VisitId)));
    }

    private async Task KeepProblemsAsync(FleetDbContext db, CancellationToken cancel)
    {
        if (Result.Problems is not { } problems)
        {
            return;
        }

        List<ProblemRow> rows = await db.Problems.Where(row => row.StationId == Station).ToListAsync(cancel);
        db.RemoveRange(rows.Where(row => problems.All(problem => (problem.Rule, problem.Part) != (row.Rule, row.Part))));
        foreach (Problem problem in problems)
        {
            ProblemRow? row = rows.Find(known => (known.Rule, known.Part) == (problem.Rule, problem.Part));
            if (row is null)
            {
                row = new ProblemRow { StationId = Station, Rule = problem.Rule, Part = problem.Part, Evidence = "" };
                db.Add(row);
            }

            (row.Urgency, row.Since, row.Evidence) = (problem.Urgency, problem.Since, WatchJson.Write(problem.Evidence));
        }
    }
}
