using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Identity;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Accounts;

public static class AccountServices
{
    public static IServiceCollection AddAccounts(this IServiceCollection services)
    {
        services.AddIdentity<FleetUser, IdentityRole>(options =>
            {
                options.User.RequireUniqueEmail = true;
                options.Password.RequiredLength = 12;
                options.Password.RequireDigit = false;
                options.Password.RequireUppercase = false;
                options.Password.RequireLowercase = false;
                options.Password.RequireNonAlphanumeric = false;
                options.Lockout.MaxFailedAccessAttempts = 5;
                options.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(15);
            })
            .AddEntityFrameworkStores<FleetDbContext>()
            .AddClaimsPrincipalFactory<ViewerClaims>();
        services.ConfigureApplicationCookie(options =>
        {
            options.LoginPath = "/sign-in";
            options.LogoutPath = "/sign-out";
            options.AccessDeniedPath = "/not-allowed";
            options.Cookie.Name = "stationfleet";
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.ExpireTimeSpan = TimeSpan.FromDays(14);
            options.SlidingExpiration = true;
        });

        // Closed unless opened: a page or endpoint without its own rule needs a signed-in person.
        services.AddAuthorizationBuilder()
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
        return services;
    }

    public static void MapAccounts(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
    }
}
