using MudBlazor;
using MudBlazor.Services;

namespace StationFleet.Web.Shell;

public static class ShellServices
{
    public static IServiceCollection AddShell(this IServiceCollection services)
    {
        services.AddRazorComponents().AddInteractiveServerComponents();
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
