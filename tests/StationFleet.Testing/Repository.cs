namespace StationFleet.Testing;

/// <summary>Files of the repository that tests read or run.</summary>
public static class Repository
{
    /// <summary>The whole path of a file, given from the top of the repository.</summary>
    public static string PathOf(string file)
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "StationFleet.sln")))
        {
            folder = folder.Parent;
        }

        return Path.Combine(folder!.FullName, file);
    }
}
