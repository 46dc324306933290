using System.Globalization;
using StationFleet.Domain.Quantities;
using StationFleet.Domain.Seasons;
using StationFleet.Reports.Seasons;
using StationFleet.Reports.Tables;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Seasons;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Benchmarks;

/// <summary>
/// A report of a hundred stations over three seasons: read from the file and written in each format, from a file without raw rows and
/// from one with those of five stations, in turns. Processor time stands beside the clock's, since the machine is seldom alone.
/// </summary>
internal static class ExportBenchmark
{
    private const int Stations = 100;

    private static readonly Season Asked = Season.Range(new DateOnly(2024, 5, 1), new DateOnly(2026, 10, 15));
    private static readonly ReportFrame Frame = new("Three seasons", "Our stations", [], IsInvented: true);

    public static async Task RunAsync(int rounds)
    {
        using BenchFleet without = await SeasonsFile.MakeAsync(3, Stations, Stations, 0);
        using BenchFleet with = await SeasonsFile.MakeAsync(3, Stations, Stations, 5);
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"file [MB]: without raw rows {new FileInfo(without.Database.Path).Length / 1e6:0}, with {new FileInfo(with.Database.Path).Length / 1e6:0}"));
        foreach ((string format, Func<SeasonReport, long> write) in new (string, Func<SeasonReport, long>)[]
        {
            ("csv", report => SeasonCsv.TableKeys.Sum(key => (long)SeasonCsv.Write(report, key, isInvented: true)!.Length)),
            ("pdf", report => SeasonPdf.Write(report, UnitSystem.UsCustomary, Frame).Length),
            ("xlsx", report => SeasonWorkbook.Write(report, UnitSystem.UsCustomary, Frame).Length),
        })
        {
            List<(double Seconds, double Processor)> plain = [];
            List<(double Seconds, double Processor)> heavy = [];
            for (int round = 0; round < rounds; round++)
            {
                plain.Add(await TimeAsync(without, write));
                heavy.Add(await TimeAsync(with, write));
            }

            (double one, double other) = (Median.Of([.. plain.Select(time => time.Seconds)]), Median.Of([.. heavy.Select(time => time.Seconds)]));
            (double oneCpu, double otherCpu) = (Median.Of([.. plain.Select(time => time.Processor)]), Median.Of([.. heavy.Select(time => time.Processor)]));
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture, $"{format} [s]: {one:0.0} (processor {oneCpu:0.0}), with raw rows {other:0.0} (processor {otherCpu:0.0}), ratio of processor time {otherCpu / oneCpu:0.00}"));
        }
    }

    private static async Task<(double Seconds, double Processor)> TimeAsync(BenchFleet fleet, Func<SeasonReport, long> write)
    {
        long started = TimeProvider.System.GetTimestamp();
        TimeSpan before = Environment.CpuUsage.TotalTime;
        SeasonReader seasons = new(fleet.Database, new StationSetupReader(fleet.Database), new MeasurementReader(fleet.Database));
        SeasonReportReader reader = new(fleet.Database, seasons, new SetAsideReader(fleet.Database));
        await using FleetDbContext db = fleet.Database.CreateDbContext();
        SeasonChoices choices = await SeasonChoices.ReadAsync(db, db.Stations, CancellationToken.None);
        SeasonScope scope = choices.Pick(new SeasonPart([], null, null, null))!;
        long bytes = write(await reader.ReadAsync(choices, scope, Asked, SeasonsFile.Now, TimeZoneInfo.Utc, CancellationToken.None));
        return bytes > 0
            ? (TimeProvider.System.GetElapsedTime(started).TotalSeconds, (Environment.CpuUsage.TotalTime - before).TotalSeconds)
            : throw new InvalidOperationException("Nothing was written.");
    }
}
