using MudBlazor.Services;

namespace StationFleet.Web.Shell;

public static class ShellServices
{
    public static IServiceCollection AddShell(this IServiceCollection services)
    {
        services.AddRazorComponents().AddInteractiveServerComponents();
        services.AddMudServices();
        services.AddCascadingAuthenticationState();
        return services;
    }

    public static void MapShell(this WebApplication app) =>
        app.MapRazorComponents<App>()
            .AddInteractiveServerRenderMode(options => options.ContentSecurityFrameAncestorsPolicy = null);
}
