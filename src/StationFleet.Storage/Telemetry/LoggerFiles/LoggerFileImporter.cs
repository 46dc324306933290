using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Domain.Time;

namespace StationFleet.Storage.Telemetry.LoggerFiles;

/// <summary>A logger's file on disk, whose it is, and how it is read.</summary>
/// <param name="Path">The file.</param>
/// <param name="Layout">How it is laid out.</param>
/// <param name="Station">The station whose logger wrote it.</param>
/// <param name="Context">What reading a report needs to know of that station.</param>
/// <param name="Received">When the file was handed in: all its readings become known at that instant.</param>
public sealed record LoggerFile(string Path, LoggerFileLayout Layout, StationId Station, StationContext Context, DateTimeOffset Received);

/// <summary>Brings loggers' files into the database, in packs, by the one writer: a reading that is known is not added again.</summary>
public sealed class LoggerFileImporter(MeasurementWriter writer, MeasurementReader reader)
{
    /// <summary>Small enough that stations' own reports never wait long behind one.</summary>
    private const int ReadingsPerPack = 2000;

    private const int MostTries = 60;

    /// <summary>Looks at a whole file without storing anything.</summary>
    /// <param name="file">The file.</param>
    /// <param name="progress">Told the share of the file that was read.</param>
    /// <param name="cancel">Stops it.</param>
    public Task<LoggerFileSurvey> SurveyAsync(LoggerFile file, IProgress<double>? progress, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(file);
        return Task.Run(
            async () =>
            {
                (int lines, int readings, int known, int other) = (0, 0, 0, 0);
                (DateTimeOffset? first, DateTimeOffset? last) = (null, null);
                SortedSet<string> names = new(StringComparer.Ordinal);
                SetAsideTally setAside = new();
                DateTimeOffset? final = await reader.SealedUpToAsync(file.Station, cancel);
                foreach (Pack pack in Packs(file, progress))
                {
                    cancel.ThrowIfCancellationRequested();
                    lines = pack.LinesSoFar;
                    setAside.Add(pack.Report.SetAside);
                    setAside.Add(pack.Report.Measurements.Where(row => row.Measurement.At <= final)
                        .Select(row => new SetAsideRecord(row.Index, SealedTime.TooLate(final!.Value), row.Raw)));
                    Measurement[] measured = [.. pack.Report.Measurements.Select(row => row.Measurement).Where(m => !(m.At <= final))];
                    readings += measured.Length;
                    if (measured.Length == 0)
                    {
                        continue;
                    }

                    names.UnionWith(measured.Select(measurement => measurement.Name));
                    first = Earlier(first, measured[0].At);
                    last = Later(last, measured[^1].At);
                    Dictionary<(string, DateTimeOffset), double> there = await KnownAsync(file.Station, measured, cancel);
                    foreach (Measurement measurement in measured)
                    {
                        if (there.TryGetValue((measurement.Name, measurement.At), out double value))
                        {
                            (known, other) = value == measurement.Value ? (known + 1, other) : (known, other + 1);
                        }
                    }
                }

                return new LoggerFileSurvey(lines, readings, known, other, [.. names], first, last, setAside.Counts);
            },
            cancel);
    }

    /// <summary>Stores a file's readings, and sets aside with its reason what cannot count. A second time it adds nothing.</summary>
    /// <param name="file">The file.</param>
    /// <param name="survey">What the file holds, as <see cref="SurveyAsync"/> found it.</param>
    /// <param name="progress">Told the counts after each pack.</param>
    /// <param name="stop">Stops after the pack in hand; what was stored stays.</param>
    public Task<LoggerFileCounts> ImportAsync(
        LoggerFile file, LoggerFileSurvey survey, IProgress<LoggerFileCounts>? progress, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(file);
        ArgumentNullException.ThrowIfNull(survey);
        return Task.Run(async () =>
        {
            UtcInterval? span = survey.FirstAt < survey.LastAt ? new UtcInterval(survey.FirstAt.Value, survey.LastAt.Value) : null;
            IReadOnlyList<UtcInterval> before = await GapsAsync(file.Station, span);
            LoggerFileCounts counts = LoggerFileCounts.Nothing;
            SetAsideTally setAside = new();
            foreach (Pack pack in Packs(file, null))
            {
                (ReportReceipt? receipt, ImportEnd end) = await WriteAsync(file, pack.Report, stop);
                if (receipt is null)
                {
                    counts = counts with { End = end };
                    break;
                }

                setAside.Add(receipt.SetAside);
                counts = counts with
                {
                    Lines = pack.LinesSoFar,
                    Added = counts.Added + receipt.Accepted,
                    Repeated = counts.Repeated + receipt.Repeated,
                    SetAside = setAside.Counts,
                    FirstAt = receipt.OldestAt is { } oldest ? Earlier(counts.FirstAt, oldest) : counts.FirstAt,
                    LastAt = receipt.NewestAt is { } newest ? Later(counts.LastAt, newest) : counts.LastAt,
                };
                progress?.Report(counts);
            }

            return counts with
            {
                End = counts.End == ImportEnd.Running ? ImportEnd.Done : counts.End,
                Filled = span is null ? [] : DataGaps.Filled(before, await GapsAsync(file.Station, span), span),
            };
        });
    }

    private sealed record Pack(ReportReading.Report Report, int LinesSoFar);

    private static IEnumerable<Pack> Packs(LoggerFile file, IProgress<double>? progress)
    {
        using StreamReader text = LoggerFileText.Open(file.Path);
        (int lines, int before) = (0, 0);
        foreach (LoggerLine[] chunk in LoggerFileReader.Read(text, file.Layout).Chunk(ReadingsPerPack))
        {
            // A table's line may lie in two packs.
            lines += chunk.Select(line => line.Line).Where(line => line > before).Distinct().Count();
            before = chunk[^1].Line;
            progress?.Report((double)text.BaseStream.Position / Math.Max(1, text.BaseStream.Length));
            yield return new Pack(LoggerFileReport.Of(chunk, file.Context, file.Received), lines);
        }
    }

    private async Task<(ReportReceipt? Receipt, ImportEnd End)> WriteAsync(LoggerFile file, ReportReading.Report report, CancellationToken stop)
    {
        for (int tries = 1; tries <= MostTries && !stop.IsCancellationRequested; tries++)
        {
            WriteOutcome outcome = await writer.WriteAsync(
                new ReportToStore(file.Station, file.Received, report.Measurements, report.SetAside) { Source = ReportSource.LoggerFile }, CancellationToken.None);
            if (outcome is WriteOutcome.Stored stored)
            {
                return (stored.Receipt, ImportEnd.Running);
            }

            if (outcome is not WriteOutcome.Busy busy)
            {
                return (null, ImportEnd.NotWritten);
            }

            await Task.Delay(busy.RetryAfter, stop).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        }

        return (null, stop.IsCancellationRequested ? ImportEnd.Stopped : ImportEnd.NotWritten);
    }

    private async Task<Dictionary<(string, DateTimeOffset), double>> KnownAsync(StationId station, Measurement[] measured, CancellationToken cancel)
    {
        string[] names = [.. measured.Select(measurement => measurement.Name).Distinct()];
        IReadOnlyList<Measurement> there = await reader.RangeAsync(
            station, names, measured[0].At.AddMilliseconds(-1), measured[^1].At, cancel);
        return there.ToDictionary(measurement => (measurement.Name, measurement.At), measurement => measurement.Value);
    }

    // A margin on both sides, so that a gap's ends are the readings around it.
    private async Task<IReadOnlyList<UtcInterval>> GapsAsync(StationId station, UtcInterval? span)
    {
        if (span is null)
        {
            return [];
        }

        UtcInterval wide = new(span.Start - DataGaps.Least, span.End + DataGaps.Least);
        return DataGaps.Of(await reader.DataHoursAsync(station, wide.Start.AddHours(-1), wide.End, CancellationToken.None), wide);
    }

    private static DateTimeOffset Earlier(DateTimeOffset? a, DateTimeOffset b) => a < b ? a.Value : b;

    private static DateTimeOffset Later(DateTimeOffset? a, DateTimeOffset b) => a > b ? a.Value : b;
}
