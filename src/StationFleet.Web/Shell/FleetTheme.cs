using MudBlazor;

namespace StationFleet.Web.Shell;

/// <summary>
/// What MudBlazor needs in C#: typeface, corners, sentence case. Its colours are set in <c>app.css</c> from our tokens, so that one
/// switch (<c>data-theme</c>) turns everything.
/// </summary>
internal static class FleetTheme
{
    private static readonly string[] Family = ["Atkinson Hyperlegible Next", "system-ui", "Noto Sans", "DejaVu Sans", "sans-serif"];

    public static MudTheme Instance { get; } = new()
    {
        LayoutProperties = new LayoutProperties { DefaultBorderRadius = "6px" },
        Typography = new Typography
        {
            Default = new DefaultTypography { FontFamily = Family, FontSize = ".97rem", LineHeight = "1.5" },
            Button = new ButtonTypography { FontFamily = Family, TextTransform = "none", FontWeight = "620", LetterSpacing = "0" },
        },
    };
}
