namespace StationFleet.Web.Platform;

/// <summary>Turns the bare switch <c>--demo</c> into a setting, since the configuration reader would take the next word as its value.</summary>
public static class PlatformArguments
{
    public static string[] Normalise(string[] args) =>
        [.. args.Select(arg => string.Equals(arg, "--demo", StringComparison.Ordinal) ? "--Demo=true" : arg)];
}
