namespace StationFleet.Storage.Platform;

/// <summary>
/// Holds a data folder for one program that writes measurements: the server, or a command that works on the file itself. The
/// system lets go of it when the program ends, however it ends.
/// </summary>
public sealed class DataLock : IDisposable
{
    private readonly FileStream _file;

    private DataLock(FileStream file) => _file = file;

    /// <summary>Takes hold of a folder; null when another program has it.</summary>
    /// <param name="folder">The data folder.</param>
    public static DataLock? TryTake(string folder)
    {
        try
        {
            return new DataLock(new FileStream(Path.Combine(folder, "fleet.lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException)
        {
            return null;
        }
    }

    public void Dispose() => _file.Dispose();
}
