using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Authorization;
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
                options.User.AllowedUserNameCharacters = "";   // the user name is the e-mail address, whatever it holds
                options.Password.RequiredLength = AccountRules.ShortestPassword;
                options.Password.RequiredUniqueChars = AccountRules.UniqueCharacters;
                options.Password.RequireDigit = false;
                options.Password.RequireUppercase = false;
                options.Password.RequireLowercase = false;
                options.Password.RequireNonAlphanumeric = false;
                options.Lockout.MaxFailedAccessAttempts = 5;
                options.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(15);
            })
            .AddEntityFrameworkStores<FleetDbContext>()
            .AddDefaultTokenProviders()
            .AddClaimsPrincipalFactory<ViewerClaims>();
        services.Configure<SecurityStampValidatorOptions>(options => options.ValidationInterval = CircuitWatch.Interval);
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
            .SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build())
            .AddPolicy(Policies.ChangeFleet, policy => policy.RequireRole(FleetRoles.Biologist, FleetRoles.Administrator))
            .AddPolicy(Policies.ManagePeople, policy => policy.RequireRole(FleetRoles.Administrator));
        services.AddSingleton<FirstRun>().AddHostedService<AccountStart>();
        services.AddScoped<AuthenticationStateProvider, CircuitWatch>();
        services.AddScoped<MakeFirstAccount>().AddScoped<SignIn>().AddScoped<ChangePassword>();
        services.AddSingleton<ListPeople>().AddSingleton<SavePerson>().AddSingleton<LockPerson>().AddSingleton<ResetPassword>();
        return services;
    }

    /// <summary>Stands between knowing who asks and asking what the person may do.</summary>
    public static void UseAccountGate(this WebApplication app) => app.UseMiddleware<AccountGate>().UseMiddleware<StewardDoor>();
}
