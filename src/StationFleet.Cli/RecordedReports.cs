using StationFleet.Domain.Telemetry;
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
    public static RecordedReports Of(IReadOnlyList<LongCsvLine> rows, DateTimeOffset created)
    {
        IReadOnlyList<LongCsvLine> sorted = rows;
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
            switch (Check(sorted[i], received, created, out Measurement measurement))
            {
                case Verdict.Counts:
                    pack.Add(measurement);
                    counted++;
                    break;
                case Verdict.BeforeCreated:
                    before++;
                    break;
                default:
                    setAside++;
                    break;
            }

            // A report of which nothing counts still is a sign of life.
            if (i == sorted.Count - 1 || ReceivedAt(sorted[i + 1]) != received)
            {
                reports.Add(new WatchReport(received, pack));
                pack = new List<Measurement>(pack.Count);
            }
        }

        return new RecordedReports(reports, counted, setAside, before);
    }

    private enum Verdict
    {
        Counts,
        SetAside,
        BeforeCreated,
    }

    private static DateTimeOffset ReceivedAt(LongCsvLine row) => row.Received ?? row.Measurement.At;

    private static Verdict Check(LongCsvLine row, DateTimeOffset received, DateTimeOffset created, out Measurement measurement)
    {
        measurement = row.Measurement;
        if (measurement.At < created)
        {
            return Verdict.BeforeCreated;
        }

        if (measurement.At > received + ReportReader.FutureTolerance || measurement.Name.Length > ReportReader.LongestName)
        {
            return Verdict.SetAside;
        }

        string? unit = row.Unit.Length == 0 ? null : row.Unit;
        if (MeasurementTable.ToCanonical(measurement.Name, unit, measurement.Value, allowsSecondaryUnits: true) is not TableValue.Canonical canonical)
        {
            return Verdict.SetAside;
        }

        measurement = measurement with { Value = canonical.Value };
        return Verdict.Counts;
    }
}
