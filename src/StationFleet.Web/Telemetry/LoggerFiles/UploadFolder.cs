using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry.LoggerFiles;

/// <summary>Files that people handed in, on disk rather than in memory, until they are imported or given up.</summary>
internal sealed class UploadFolder
{
    /// <summary>The largest file that is taken: a year of twenty series every five minutes has some 100 MB, so a season fits.</summary>
    public const int MostMegabytes = 64;

    public const long MostBytes = MostMegabytes * 1024L * 1024;

    private readonly string _folder;

    public UploadFolder(FleetPaths paths)
    {
        // What a stopped server left behind belongs to nobody any more.
        _folder = paths.Uploads;
        if (Directory.Exists(_folder))
        {
            Directory.Delete(_folder, recursive: true);
        }

        Directory.CreateDirectory(_folder);
    }

    /// <summary>Writes a stream into a file of its own.</summary>
    /// <param name="content">What is handed in.</param>
    /// <param name="bytes">How many bytes it has, for the progress.</param>
    /// <param name="progress">Told the share that has arrived.</param>
    /// <param name="cancel">Stops it; nothing stays then.</param>
    /// <returns>The file's path.</returns>
    public async Task<string> KeepAsync(Stream content, long bytes, IProgress<double> progress, CancellationToken cancel)
    {
        string path = Path.Combine(_folder, $"{Guid.NewGuid():N}.csv");
        try
        {
            await using FileStream file = File.Create(path);
            byte[] buffer = new byte[64 * 1024];
            for (long arrived = 0; await content.ReadAsync(buffer, cancel) is var read and > 0;)
            {
                await file.WriteAsync(buffer.AsMemory(0, read), cancel);
                arrived += read;
                progress.Report((double)arrived / Math.Max(1, bytes));
            }

            return path;
        }
        catch
        {
            File.Delete(path);
            throw;
        }
    }

    public static void Forget(string path) => File.Delete(path);
}
