namespace StationFleet.Web.Accounts;

/// <summary>Keeps a return address on this server, so that a link to the sign-in page cannot lead elsewhere.</summary>
internal static class LocalUrl
{
    public static string OrHome(string? address) =>
        address is ['/', ..] && address is not ['/', '/' or '\\', ..] && !address.Any(char.IsControl) ? address : "/";
}
