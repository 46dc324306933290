using StationFleet.Domain.Fleet;

namespace StationFleet.Testing;

/// <summary>The invented fleet of the demo, read from the repository.</summary>
public static class DemoFleet
{
    /// <summary>The file itself.</summary>
    public static string Path { get; } = Find("demo-data/fleet.json");

    /// <summary>The fleet.</summary>
    public static FleetFile Load() => FleetFile.Parse(File.ReadAllText(Path)) is FleetFileReading.Read read
        ? read.Fleet
        : throw new InvalidOperationException("The demo's fleet file is broken.");

    /// <summary>A file of the repository, wherever the test runs.</summary>
    /// <param name="relative">Its path from the top.</param>
    public static string Find(string relative)
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "StationFleet.sln")))
            {
                return System.IO.Path.Combine(folder.FullName, relative);
            }
        }

        throw new FileNotFoundException(relative);
    }
}
