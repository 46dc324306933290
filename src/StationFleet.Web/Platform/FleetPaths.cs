namespace StationFleet.Web.Platform;

/// <summary>Where this installation keeps its data: one folder. The demo has a folder of its own inside, so that the two never mix.</summary>
public sealed class FleetPaths
{
    public FleetPaths(string dataFolder, bool isDemo)
    {
        IsDemo = isDemo;
        Folder = Directory.CreateDirectory(isDemo ? Path.Combine(dataFolder, "demo") : dataFolder).FullName;
    }

    public bool IsDemo { get; }

    public string Folder { get; }

    public string Database => Path.Combine(Folder, "fleet.db");

    /// <summary>Where mails go as files when no mail server is set.</summary>
    public string MailPickup => Path.Combine(Folder, "mail");

    /// <summary>Where files that people hand in wait until they are read; emptied at each start.</summary>
    public string Uploads => Path.Combine(Folder, "uploads");

    /// <summary>Pictures that people added to tickets.</summary>
    public string Photographs => Path.Combine(Folder, "photographs");

    /// <summary>The keys that protect cookies; they must outlive a restart.</summary>
    public string CookieKeys => Path.Combine(Folder, "keys");
}
