using System.Globalization;

namespace StationFleet.Benchmarks;

/// <summary>What the figures were measured on: cores, memory, and how long the disk takes to promise a page.</summary>
internal static class Machine
{
    private const int Page = 4096;

    public static void Tell()
    {
        string path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        using FileStream file = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, Page, FileOptions.DeleteOnClose);
        List<double> microseconds = [];
        for (int i = 0; i < 500; i++)
        {
            RandomAccess.Write(file.SafeFileHandle, new byte[Page], (long)i * Page);
            long started = TimeProvider.System.GetTimestamp();
            RandomAccess.FlushToDisk(file.SafeFileHandle);
            microseconds.Add(TimeProvider.System.GetElapsedTime(started).TotalMicroseconds);
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{Environment.ProcessorCount} cores, {GC.GetGCMemoryInfo().TotalAvailableMemoryBytes / 1e9:0} GB, .NET {Environment.Version}; "
            + $"fsync of an appended 4 KiB page: median {Median.Of(microseconds):0} µs, nine in ten below {microseconds.Order().ElementAt(450):0} µs"));
    }
}
