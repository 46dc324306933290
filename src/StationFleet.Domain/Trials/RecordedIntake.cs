using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Watch;

namespace StationFleet.Domain.Trials;

/// <summary>What the intake would have made of a recorded report.</summary>
/// <param name="Report">The report as the watch takes it in; a sign of life even when nothing counts.</param>
/// <param name="Ahead">Measurements that were set aside, since their times lie more than 10 minutes ahead of the arrival.</param>
/// <param name="BeforeCreated">Measurements that were set aside, since their times lie before the station existed.</param>
public readonly record struct RecordedIntake(WatchReport Report, int Ahead, int BeforeCreated)
{
    /// <summary>Takes in one report.</summary>
    /// <param name="received">When it arrived.</param>
    /// <param name="measurements">What it holds, in the units of <see cref="MeasurementTable"/>.</param>
    /// <param name="created">From when the station exists.</param>
    public static RecordedIntake Of(DateTimeOffset received, IReadOnlyList<Measurement> measurements, DateTimeOffset created)
    {
        ArgumentNullException.ThrowIfNull(measurements);
        DateTimeOffset latest = received + ReportReader.FutureTolerance;
        List<Measurement>? kept = null;
        TimeSpan? furthest = null;
        (int ahead, int before) = (0, 0);
        for (int i = 0; i < measurements.Count; i++)
        {
            DateTimeOffset at = measurements[i].At;
            if (at <= latest && at >= created)
            {
                kept?.Add(measurements[i]);
                continue;
            }

            // Hardly any report holds one to set aside: only then is it copied.
            kept ??= [.. measurements.Take(i)];
            (ahead, before) = at > latest ? (ahead + 1, before) : (ahead, before + 1);
            furthest = at > latest && !(furthest >= at - received) ? at - received : furthest;
        }

        return new RecordedIntake(new WatchReport(received, kept ?? measurements, furthest), ahead, before);
    }
}
