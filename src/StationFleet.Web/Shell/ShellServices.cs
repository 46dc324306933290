using MudBlazor;
using MudBlazor.Services;

namespace StationFleet.Web.Shell;

public static class ShellServices
{
    public static IServiceCollection AddShell(this IServiceCollection services)
    {
        // A page hands what it read while prerendering to its circuit in one message; the usual 32 kB are too few for a chart.
        services.AddRazorComponents().AddInteractiveServerComponents()
            .AddHubOptions(options => options.MaximumReceiveMessageSize = 1024 * 1024);
        services.AddMudServices(options =>
        {
            // At the bottom, so that it covers no navigation; gone quickly, since half-faded text is hard to read.
            options.SnackbarConfiguration.PositionClass = Defaults.Classes.Position.BottomRight;
            options.SnackbarConfiguration.ShowTransitionDuration = 100;
            options.SnackbarConfiguration.HideTransitionDuration = 100;
        });
        services.AddCascadingAuthenticationState();
        return services;
    }

    public static void MapShell(this WebApplication app) =>
        app.MapRazorComponents<App>()
            .AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null);
}
