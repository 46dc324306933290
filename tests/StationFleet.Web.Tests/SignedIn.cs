using System.Net;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using StationFleet.Domain.Fleet;
using StationFleet.Storage.Accounts;

namespace StationFleet.Web.Tests;

/// <summary>Browsers of signed-in persons, without the way over the sign-in page.</summary>
internal static class SignedIn
{
    /// <summary>A new person with one role and the cookie that signing in gives.</summary>
    public static async Task<(FleetUser Person, Cookie Cookie)> AddSignedInAsync(this FleetApp app, string name, string role, AgencyId? agency = null)
    {
        FleetUser person = await app.AddPersonAsync($"{name.Replace(' ', '.')}@juniper-basin.example", "correct horse battery", role);
        await using AsyncServiceScope scope = app.Services.CreateAsyncScope();
        UserManager<FleetUser> people = scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>();
        person = (await people.FindByIdAsync(person.Id))!;
        (person.DisplayName, person.AgencyId) = (name, agency);
        await people.UpdateAsync(person);
        return (person, await CookieAsync(scope.ServiceProvider, person, app.Address));
    }

    /// <summary>A browser without script, with a new person's cookie; it follows no redirects by itself.</summary>
    public static async Task<(FleetUser Person, PlainBrowser Browser)> AddBrowserAsync(this FleetApp app, string name, string role)
    {
        (FleetUser person, Cookie cookie) = await app.AddSignedInAsync(name, role);
        return (person, new PlainBrowser(app.Address, cookie));
    }

    /// <summary>The same of a person who is known.</summary>
    public static async Task<PlainBrowser> BrowserOfAsync(this FleetApp app, string email)
    {
        await using AsyncServiceScope scope = app.Services.CreateAsyncScope();
        FleetUser person = (await scope.ServiceProvider.GetRequiredService<UserManager<FleetUser>>().FindByEmailAsync(email))!;
        return new PlainBrowser(app.Address, await CookieAsync(scope.ServiceProvider, person, app.Address));
    }

    /// <summary>The cookie that signing in gives a person.</summary>
    public static async Task<Cookie> CookieAsync(IServiceProvider services, FleetUser person, Uri address)
    {
        var factory = services.GetRequiredService<IUserClaimsPrincipalFactory<FleetUser>>();
        CookieAuthenticationOptions cookies = services
            .GetRequiredService<IOptionsMonitor<CookieAuthenticationOptions>>().Get(IdentityConstants.ApplicationScheme);
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        AuthenticationTicket ticket = new(
            await factory.CreateAsync(person),
            new AuthenticationProperties { IssuedUtc = now, ExpiresUtc = now.AddHours(1) },
            IdentityConstants.ApplicationScheme);
        return new Cookie(cookies.Cookie.Name!, cookies.TicketDataFormat.Protect(ticket), "/", address.Host);
    }
}
