using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Domain.Trials;
using StationFleet.Domain.Watch;

namespace StationFleet.Cli;

/// <summary>One station's recorded measurements as reports, in the order in which they were received.</summary>
/// <param name="Reports">The reports.</param>
/// <param name="Measurements">Rows that count, repeated ones included.</param>
/// <param name="SetAside">Rows that the intake would set aside: a unit or value that cannot be, a time ahead of its arrival.</param>
/// <param name="BeforeCreated">Rows from before the station existed; set aside too.</param>
internal sealed record RecordedReports(IReadOnlyList<WatchReport> Reports, int Measurements, int SetAside, int BeforeCreated)
{
    /// <summary>Makes reports of rows: what was received at one instant is one report.</summary>
    /// <param name="rows">The rows; one without its time of receiving counts as received when it was measured.</param>
    /// <param name="created">From when the station exists.</param>
    public static RecordedReports Of(IReadOnlyList<LoggerLine.Reading> rows, DateTimeOffset created)
    {
        IReadOnlyList<LoggerLine.Reading> sorted = rows;
        for (int i = 1; i < rows.Count; i++)
        {
            if (ReceivedAt(rows[i]) < ReceivedAt(rows[i - 1]))
            {
                sorted = [.. rows.OrderBy(ReceivedAt)];
                break;
            }
        }

        List<WatchReport> reports = [];
        List<Measurement> pack = [];
        (int counted, int setAside, int before) = (0, 0, 0);
        for (int i = 0; i < sorted.Count; i++)
        {
            DateTimeOffset received = ReceivedAt(sorted[i]);
            if (Canonical(sorted[i]) is { } measurement)
            {
                pack.Add(measurement);
            }
            else
            {
                setAside++;
            }

            if (i == sorted.Count - 1 || ReceivedAt(sorted[i + 1]) != received)
            {
                RecordedIntake taken = RecordedIntake.Of(received, pack, created);
                reports.Add(taken.Report);
                (counted, setAside, before) = (counted + taken.Report.Measurements.Count, setAside + taken.Ahead, before + taken.BeforeCreated);
                pack = new List<Measurement>(pack.Count);
            }
        }

        return new RecordedReports(reports, counted, setAside, before);
    }

    private static DateTimeOffset ReceivedAt(LoggerLine.Reading row) => row.Received ?? row.At;

    private static Measurement? Canonical(LoggerLine.Reading row)
    {
        return row.Name.Length <= ReportReader.LongestName
            && MeasurementTable.ToCanonical(row.Name, row.Unit, row.Value, allowsSecondaryUnits: true) is TableValue.Canonical canonical
            ? row.Measurement with { Value = canonical.Value }
            : null;
    }
}
