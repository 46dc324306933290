using StationFleet.Domain.Fleet;
using StationFleet.Domain.Simulation;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Platform.Demo;

/// <summary>Writes reports of the past straight to the store, many at once; they keep the time at which they were received.</summary>
internal sealed class DemoReports(MeasurementWriter writer)
{
    /// <summary>Writes reports of one station in order.</summary>
    /// <param name="station">The station.</param>
    /// <param name="reports">Its reports.</param>
    /// <param name="firstPastId">The first number below zero, for reports that the watch must not take as new; null numbers them as usual.</param>
    /// <param name="waiting">How many may wait for the writer at once: few leave it free for others.</param>
    /// <param name="cancel">Stops between two reports.</param>
    /// <returns>The number of the last one; 0 when there was none.</returns>
    public async Task<long> WriteAsync(
        StationId station, IReadOnlyList<SimulatedReport> reports, long? firstPastId, int waiting, CancellationToken cancel)
    {
        long last = 0;
        Queue<Task<WriteOutcome>> sent = new();
        for (int i = 0; i < reports.Count; i++)
        {
            cancel.ThrowIfCancellationRequested();
            ReportToStore report = new(
                station,
                reports[i].Received,
                [.. reports[i].Measurements.Select((measurement, index) => new IndexedMeasurement(index, measurement, ""))],
                [])
            {
                PastId = firstPastId + i,
            };
            sent.Enqueue(WriteOneAsync(report, cancel));
            if (sent.Count >= waiting)
            {
                last = IdOf(await sent.Dequeue());
            }
        }

        while (sent.TryDequeue(out Task<WriteOutcome>? one))
        {
            last = IdOf(await one);
        }

        return last;
    }

    private async Task<WriteOutcome> WriteOneAsync(ReportToStore report, CancellationToken cancel)
    {
        while (true)
        {
            WriteOutcome outcome = await writer.WriteAsync(report, cancel);
            if (outcome is not WriteOutcome.Busy)
            {
                return outcome;
            }

            await Task.Delay(TimeSpan.FromMilliseconds(20), cancel);
        }
    }

    private static long IdOf(WriteOutcome outcome) => outcome is WriteOutcome.Stored stored
        ? stored.Receipt.ReportId
        : throw new IOException("The disk is full: the demo's past cannot be written.");
}
