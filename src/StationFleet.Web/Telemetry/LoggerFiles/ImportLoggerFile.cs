using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Telemetry.LoggerFiles;
using StationFleet.Storage.Platform;
using StationFleet.Storage.Telemetry.LoggerFiles;
using StationFleet.Web.Accounts;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>
/// Imports files in the background: it goes on when the person closes the page, and can be stopped. What it did is kept in the list
/// of imports.
/// </summary>
public sealed partial class ImportLoggerFile(
    IDbContextFactory<FleetDbContext> databases, LoggerFileImporter importer, FleetClock clock, ILogger<ImportLoggerFile> logger) : IAsyncDisposable
{
    private readonly ConcurrentDictionary<int, Running> _running = new();

    /// <summary>A file to import, as the person last saw it.</summary>
    public sealed record Command(
        LookAtLoggerFile.View Look, LoggerFileSurvey Survey, LoggerFileLayout Layout, string Path, string FileName, long Bytes);

    /// <summary>An import under way.</summary>
    public sealed class Running(int lines) : IProgress<LoggerFileCounts>, IDisposable
    {
        private readonly CancellationTokenSource _stop = new();

        /// <summary>How many lines the file has.</summary>
        public int Lines { get; } = lines;

        public LoggerFileCounts Counts { get; private set; } = LoggerFileCounts.Nothing;

        public CancellationToken Stopped => _stop.Token;

        public Task Work { get; set; } = Task.CompletedTask;

        public void Report(LoggerFileCounts value) => Counts = value;

        public void Stop() => _stop.Cancel();

        public void Dispose() => _stop.Dispose();
    }

    /// <returns>The import's number; null when the person may not import.</returns>
    public async Task<int?> HandleAsync(Viewer viewer, Command command, CancellationToken cancel)
    {
        if (!viewer.MayImport())
        {
            return null;
        }

        DateTimeOffset now = clock.GetUtcNow();
        LoggerFileImport row = new()
        {
            StationId = command.Look.Station,
            Who = viewer.Name,
            At = now,
            FileName = command.FileName,
            Bytes = command.Bytes,
            Headings = string.Join('\n', command.Look.Headings),
            Layout = LoggerFileImport.Write(command.Layout),
            End = ImportEnd.Running,
            Counts = LoggerFileImport.Write(LoggerFileCounts.Nothing),
        };
        await databases.WriteAsync(db => Task.FromResult(db.Add(row)), cancel);
        Running running = new(command.Survey.Lines);
        _running[row.Id] = running;
        LoggerFile file = new(command.Path, command.Layout, command.Look.Station, command.Look.Context, now);
        running.Work = Task.Run(() => RunAsync(row.Id, file, command.Survey, running), CancellationToken.None);
        return row.Id;
    }

    /// <summary>An import that is under way; null when it has ended.</summary>
    public Running? Find(int id) => _running.GetValueOrDefault(id);

    /// <summary>Stops an import; what it stored stays.</summary>
    public void Stop(Viewer viewer, int id)
    {
        if (viewer.MayImport())
        {
            Find(id)?.Stop();
        }
    }

    /// <summary>The server stops: imports end after the pack in hand, and say so.</summary>
    public async ValueTask DisposeAsync()
    {
        foreach (Running running in _running.Values)
        {
            running.Stop();
            await running.Work;
        }
    }

    private async Task RunAsync(int id, LoggerFile file, LoggerFileSurvey survey, Running running)
    {
        LoggerFileCounts counts;
        try
        {
            counts = await importer.ImportAsync(file, survey, running, running.Stopped);
        }
        catch (Exception failure)
        {
            // Whatever it was, the list must tell that the file was not read to its end.
            LogFailed(failure, id);
            counts = running.Counts with { End = ImportEnd.Failed };
        }

        try
        {
            UploadFolder.Forget(file.Path);
            await databases.WriteAsync(
                async db =>
                {
                    LoggerFileImport row = await db.LoggerFileImports.SingleAsync(import => import.Id == id);
                    (row.End, row.Counts) = (counts.End, LoggerFileImport.Write(counts));
                },
                CancellationToken.None);
        }
        catch (Exception failure)
        {
            LogFailed(failure, id);
        }
        finally
        {
            _running.TryRemove(id, out _);
            running.Dispose();
        }
    }

    [LoggerMessage(2141, LogLevel.Error, "Import {Import} of a logger's file failed; what it stored stays.")]
    private partial void LogFailed(Exception failure, int import);
}
