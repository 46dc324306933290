using System.Security.Cryptography;
using System.Text.Json;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Platform.Demo;

/// <summary>A demo sign-in.</summary>
/// <param name="Email">The name to sign in with.</param>
/// <param name="Password">Made at the first start.</param>
/// <param name="Role">What the person may do.</param>
internal sealed record DemoAccount(string Email, string Password, string Role);

/// <summary>
/// What the demo made at its first start and prints at each: sign-ins and station keys, in demo.json beside the demo's database.
/// Only the demo keeps such things in the clear; it listens on loopback and its data are invented.
/// </summary>
internal sealed record DemoFile(IReadOnlyList<DemoAccount> Accounts, IReadOnlyDictionary<string, string> Keys)
{
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { WriteIndented = true };

    /// <summary>Where it lies.</summary>
    public static string PathIn(FleetPaths paths) => Path.Combine(paths.Folder, "demo.json");

    public static async Task<DemoFile?> LoadAsync(FleetPaths paths, CancellationToken cancel)
    {
        if (!File.Exists(PathIn(paths)))
        {
            return null;
        }

        await using FileStream file = File.OpenRead(PathIn(paths));
        return await JsonSerializer.DeserializeAsync<DemoFile>(file, Json, cancel);
    }

    public async Task SaveAsync(FleetPaths paths, CancellationToken cancel)
    {
        // Whole or not at all: a half-written file would lock everybody out of the demo.
        string draft = PathIn(paths) + "." + RandomNumberGenerator.GetHexString(8);
        FileStreamOptions options = new() { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        await using (FileStream file = new(draft, options))
        {
            await JsonSerializer.SerializeAsync(file, this, Json, cancel);
        }

        File.Move(draft, PathIn(paths), overwrite: true);
    }

    public static string NewPassword() => TemporaryPassword.Make();
}
