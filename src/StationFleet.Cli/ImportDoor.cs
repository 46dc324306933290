using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry;
using StationFleet.Storage.Telemetry.LoggerFiles;

namespace StationFleet.Cli;

/// <summary>Where a logger's file goes.</summary>
internal abstract class ImportDoor : IAsyncDisposable
{
    /// <summary>The zone of the place where the station stands; null when it is not known here.</summary>
    public string? Zone { get; protected init; }

    /// <summary>Names that the station already measures.</summary>
    public IReadOnlyCollection<string> Known { get; protected init; } = [];

    public abstract Task<LoggerFileCounts> ImportAsync(
        FileInfo file, LoggerFileLayout layout, IReadOnlyList<string> headings, ProgressBar progress, CancellationToken cancel);

    public abstract ValueTask DisposeAsync();
}

/// <summary>Straight into a data folder whose server does not run.</summary>
internal sealed class DataDoor : ImportDoor
{
    private readonly DataLock _lock;
    private readonly FleetDatabase _database;
    private readonly Station _station;
    private readonly MeasurementWriter _writer;

    private DataDoor(DataLock held, FleetDatabase database, Station station) =>
        (_lock, _database, _station, _writer) = (held, database, station, new MeasurementWriter(database));

    public static async Task<DataDoor> OpenAsync(DirectoryInfo folder, string? code, CancellationToken cancel)
    {
        string path = DataFolders.DatabaseIn(folder);
        if (code is null)
        {
            throw new VerbFailure(ExitCodes.WrongUse, "Say by --station whose logger it is.");
        }

        if (DataFolders.IsDemo(folder))
        {
            throw new VerbFailure(ExitCodes.WrongUse, "The demo goes by a clock of its own: start it, and import by --server or on its page Logger files.");
        }

        DataLock held = DataLock.TryTake(folder.FullName) ?? throw new VerbFailure(
            ExitCodes.Failed, $"A server runs on {folder.FullName}: import by --server and the station's key, or on its page Logger files.");
        try
        {
            FleetDatabase database = new(path);
            await database.OpenAsync(cancel);
            await using FleetDbContext db = database.CreateDbContext();
            Station station = await db.Stations.AsNoTracking().SingleOrDefaultAsync(row => row.Code == code, cancel)
                ?? throw new VerbFailure(ExitCodes.WrongUse, $"There is no station {code} in {path}.");
            string? zone = await db.Placements.Where(placement => placement.StationId == station.Id).OrderByDescending(placement => placement.From)
                .Join(db.Accesses, placement => placement.AccessId, access => access.Id, (_, access) => access.TimeZone).FirstOrDefaultAsync(cancel);
            return new DataDoor(held, database, station)
            {
                Zone = zone, Known = [.. await new MeasurementReader(database).NamesAsync(station.Id, cancel)],
            };
        }
        catch
        {
            held.Dispose();
            throw;
        }
    }

    public override async Task<LoggerFileCounts> ImportAsync(
        FileInfo file, LoggerFileLayout layout, IReadOnlyList<string> headings, ProgressBar progress, CancellationToken cancel)
    {
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        LoggerFile logged = new(file.FullName, layout, _station.Id, new StationContext(_station.Code, _station.Created, _station.HasNoClock), now);
        LoggerFileImporter importer = new(_writer, new MeasurementReader(_database));
        LoggerFileSurvey survey = await importer.SurveyAsync(logged, null, cancel);
        LoggerFileCounts counts = await importer.ImportAsync(
            logged, survey, new AsBar(progress, survey.Lines), cancel);
        await using FleetDbContext db = _database.CreateDbContext();
        db.Add(new LoggerFileImport
        {
            StationId = _station.Id,
            Who = "command line",
            At = now,
            FileName = file.Name,
            Bytes = file.Length,
            Headings = string.Join('\n', headings),
            Layout = LoggerFileImport.Write(layout),
            End = counts.End,
            Counts = LoggerFileImport.Write(counts),
        });
        await db.SaveChangesAsync(CancellationToken.None);
        return counts;
    }

    public override async ValueTask DisposeAsync()
    {
        await _writer.DisposeAsync();
        _lock.Dispose();
    }

    private sealed class AsBar(ProgressBar bar, int lines) : IProgress<LoggerFileCounts>
    {
        public void Report(LoggerFileCounts value) => bar.Show((double)value.Lines / Math.Max(1, lines));
    }
}

/// <summary>Through the intake of a server that runs, with the station's key.</summary>
internal sealed class ServerDoor : ImportDoor
{
    private const int ReadingsPerPack = 200;

    private readonly IntakeClient _client;

    private ServerDoor(IntakeClient client) => _client = client;

    public static ServerDoor Open(Uri server, string? key) =>
        (key ?? Environment.GetEnvironmentVariable("STATION_KEY")) is { Length: > 0 } known
            ? new ServerDoor(new IntakeClient(server, known, ReportSource.LoggerFile))
            : throw new VerbFailure(ExitCodes.WrongUse, "Say the station's key by --key or in the environment variable STATION_KEY.");

    public override async Task<LoggerFileCounts> ImportAsync(
        FileInfo file, LoggerFileLayout layout, IReadOnlyList<string> headings, ProgressBar progress, CancellationToken cancel)
    {
        SetAsideTally setAside = new();
        LoggerFileCounts counts = LoggerFileCounts.Nothing with { End = ImportEnd.Done };
        using StreamReader text = LoggerFileText.Open(file.FullName);
        foreach (LoggerLine[] lines in LoggerFileReader.Read(text, layout).Chunk(ReadingsPerPack))
        {
            // A line that cannot be read cannot be sent either: it is told here only.
            setAside.Add(lines.OfType<LoggerLine.Fault>().Select(fault => new SetAsideRecord(fault.Line, fault.Reason, fault.Text)));
            ILookup<string?, LoggerLine.Reading> judged = lines.OfType<LoggerLine.Reading>().ToLookup(reading => LoggerFileReport.WrongFor(reading, null)?.Reason);
            setAside.Add(judged.Where(wrong => wrong.Key is not null).SelectMany(wrong => wrong.Select(row => new SetAsideRecord(row.Line, wrong.Key!, ""))));
            LoggerLine.Reading[] readings = [.. judged[null]];
            if (readings.Length > 0)
            {
                IntakeReceipt receipt = await _client.PostAsync(readings, cancel);
                setAside.Add(receipt.SetAside);
                counts = counts with { Added = counts.Added + (int)receipt.Accepted, Repeated = counts.Repeated + (int)receipt.Repeated };
            }

            progress.Show((double)text.BaseStream.Position / Math.Max(1, text.BaseStream.Length));
        }

        return counts with { SetAside = setAside.Counts };
    }

    public override ValueTask DisposeAsync()
    {
        _client.Dispose();
        return ValueTask.CompletedTask;
    }
}

/// <summary>Data folders of a server.</summary>
internal static class DataFolders
{
    /// <summary>The database in a folder, which must be there.</summary>
    public static string DatabaseIn(DirectoryInfo folder)
    {
        string path = Path.Combine(folder.FullName, "fleet.db");
        return File.Exists(path) ? path : throw new VerbFailure(ExitCodes.WrongUse, $"There is no database {path}.");
    }

    public static bool IsDemo(DirectoryInfo folder) => File.Exists(DemoClock(folder));

    /// <summary>The present of a folder's fleet: the demo's clock has an offset.</summary>
    public static DateTimeOffset Now(DirectoryInfo folder) =>
        TimeProvider.System.GetUtcNow() + (IsDemo(folder) ? TimeSpan.Parse(File.ReadAllText(DemoClock(folder)), CultureInfo.InvariantCulture) : TimeSpan.Zero);

    private static string DemoClock(DirectoryInfo folder) => Path.Combine(folder.FullName, "clock-offset.txt");
}
