using System.Security.Cryptography;
using System.Text.Json;
using StationFleet.Domain.Fleet;

namespace StationFleet.Domain.Watch;

/// <summary>A short fingerprint of the parts of a setup that facts depend on.</summary>
internal static class SetupKey
{
    public static string Of(StationSetup setup)
    {
        var parts = new
        {
            Zone = setup.Zone.Id,
            setup.Tank,
            setup.Power,
            Tools = setup.Tools.OrderBy(tool => tool.Slug, StringComparer.Ordinal).Select(tool => new { tool.Slug, tool.Installed, tool.UsesWrapAt }),
            setup.Rules.ShortestUseSeconds,
            setup.Rules.MovedMetres,
            setup.Events,
            setup.Places,
            Quiet = setup.Quiet.OrderBy(quiet => quiet.From).ThenBy(quiet => quiet.Reason).Select(quiet => new { quiet.From, quiet.To }),
        };
        return Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(parts)))[..16];
    }
}
