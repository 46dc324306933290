using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>
/// Reads and writes records that were set aside once more, as their stations are set up now, on the very way that a report goes.
/// A record's time is judged by the moment at which it came first.
/// </summary>
internal sealed partial class RetrySetAside(
    IDbContextFactory<FleetDbContext> databases, SetAsideReader reader, MeasurementWriter writer, FleetClock clock, ILogger<RetrySetAside> logger)
{
    private const int AtOnce = 500;

    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <summary>They were tried.</summary>
        /// <param name="Accepted">New measurements.</param>
        /// <param name="Repeated">Known ones, which stop waiting too.</param>
        /// <param name="StillAside">How many still do not count, by reason, most first.</param>
        /// <param name="Stopped">Why the rest was not tried; null when all were.</param>
        internal sealed record Done(int Accepted, int Repeated, IReadOnlyList<(string Reason, int Count)> StillAside, string? Stopped) : Outcome;

        internal sealed record NotAllowed : Outcome;
    }

    public async Task<Outcome> HandleAsync(Viewer viewer, SetAsideSelection selection, CancellationToken cancel)
    {
        if (!viewer.MayChangeFleet())
        {
            return new Outcome.NotAllowed();
        }

        await using FleetDbContext db = await databases.CreateDbContextAsync(cancel);
        List<SetAsideRecord> still = [];
        int accepted = 0;
        int repeated = 0;
        string? stopped = null;
        foreach (Station station in (await db.StationsOfAsync(viewer, selection.Station, cancel)).Values)
        {
            // In the order in which they came, so that the first of two values stays the first.
            IReadOnlyList<SetAsideRow> rows = await reader.ListAsync(
                new SetAsideChoice([station.Id], selection.Kind, selection.Id), int.MaxValue, cancel);
            foreach (SetAsideRow[] chunk in rows.Reverse().Chunk(AtOnce))
            {
                (ReportToStore report, List<SetAsideRecord> unreadable) = ReadAgain(station, chunk);
                still.AddRange(unreadable);
                if (report.TriedAgain is [])
                {
                    continue;
                }

                switch (await writer.WriteAsync(report, cancel))
                {
                    case WriteOutcome.Stored { Receipt: var receipt }:
                        accepted += receipt.Accepted;
                        repeated += receipt.Repeated;
                        still.AddRange(receipt.SetAside);
                        break;
                    case WriteOutcome.DiskFull:
                        stopped = "The disk is full: the rest waits as before.";
                        break;
                    default:
                        stopped = "The database is busy: the rest waits as before. Try again in a moment.";
                        break;
                }

                if (stopped is not null)
                {
                    break;
                }
            }
        }

        LogTried(viewer.Name, accepted, repeated, still.Count);
        return new Outcome.Done(
            accepted,
            repeated,
            [.. still.GroupBy(record => record.Reason).Select(group => (group.Key, group.Count())).OrderByDescending(group => group.Item2)],
            stopped);
    }

    private (ReportToStore Report, List<SetAsideRecord> Unreadable) ReadAgain(Station station, IReadOnlyList<SetAsideRow> rows)
    {
        StationContext context = new(station.Code, station.Created, station.HasNoClock);
        List<IndexedMeasurement> measurements = [];
        List<SetAsideRecord> setAside = [];
        List<SetAsideRecord> unreadable = [];
        List<long> ids = [];
        foreach (SetAsideRow row in rows)
        {
            if (ReportReader.ReadAgain(row.Raw, context, row.Received) is not { } read)
            {
                unreadable.Add(new SetAsideRecord(0, row.Reason, row.Raw, row.Kind));
                continue;
            }

            measurements.AddRange(read.Measurements.Select(measurement => measurement with { Index = ids.Count }));
            setAside.AddRange(read.SetAside.Select(record => record with { Index = ids.Count }));
            ids.Add(row.Id);
        }

        return (new ReportToStore(station.Id, clock.GetUtcNow(), measurements, setAside) { Source = ReportSource.Retry, TriedAgain = ids }, unreadable);
    }

    [LoggerMessage(2131, LogLevel.Information, "{Person} tried records set aside again: {Accepted} new, {Repeated} known, {Still} still set aside.")]
    private partial void LogTried(string person, int accepted, int repeated, int still);
}
