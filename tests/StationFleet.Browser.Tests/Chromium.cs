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

    public static Task<IBrowser> LaunchAsync(IPlaywright playwright) =>
        playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = Path(), Headless = true, Args = Flags });

    /// <summary>A phone's browser that keeps what it knows in a folder, so that it can be closed and opened again.</summary>
    public static Task<IBrowserContext> LaunchPhoneAsync(IPlaywright playwright, string folder) =>
        playwright.Chromium.LaunchPersistentContextAsync(folder, new BrowserTypeLaunchPersistentContextOptions
        {
            ExecutablePath = Path(), Headless = true, Args = Flags, HasTouch = true, ViewportSize = new ViewportSize { Width = 390, Height = 844 },
        });

    private static string Path()
    {
        string path = Environment.GetEnvironmentVariable("CHROMIUM") ?? "/usr/bin/chromium";
        return File.Exists(path)
            ? path
            : throw new InvalidOperationException(
                $"The browser tests need Chromium, and there is none at {path}: on Debian run «apt-get install chromium», elsewhere set CHROMIUM to its path.");
    }
}
