using Microsoft.Playwright;

namespace StationFleet.Browser.Tests;

/// <summary>Debian's Chromium, driven by Playwright.</summary>
internal static class Chromium
{
    private static readonly string[] Flags =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
        "--disable-component-update", "--disable-sync",
    ];

    public static Task<IBrowser> LaunchAsync(IPlaywright playwright)
    {
        string path = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium";
        return File.Exists(path)
            ? playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = path, Headless = true, Args = Flags })
            : throw new InvalidOperationException(
                $"The browser tests need Chromium, and there is none at {path}: on Debian run «apt-get install chromium», elsewhere set CHROMIUM to its path.");
    }
}
