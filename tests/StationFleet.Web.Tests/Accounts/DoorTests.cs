using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.StaticAssets;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Tests.Accounts;

/// <summary>Nothing is reachable without signing in but what must be.</summary>
public sealed partial class DoorTests(FleetApp app) : IClassFixture<FleetApp>
{
    private static readonly string[] Open =
    [
        "/api/v1/reports", "/api/v1/reports/dry-run", "/api/v1/time", "/api/{**path}",   // stations have keys of their own; the last only says that nothing is there
        "/health/live", "/health/ready",
        "/sign-in", "/sign-out", "/first-run", "/error", "/not-found",
        "/a/{Slug}",   // the page behind the QR code
        "/mail/unsubscribe/{token}", "/mail/stop/{Token}",   // the link itself is signed
    ];

    [Fact]
    public void Only_these_addresses_and_static_files_are_open()
    {
        IEnumerable<string> open = Endpoints()
            .Where(endpoint => endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null)
            .Where(endpoint => endpoint.Metadata.GetMetadata<StaticAssetDescriptor>() is null)
            .Select(AddressOf).Distinct();

        open.Should().BeSubsetOf(Open);
    }

    [Fact]
    public async Task Every_other_address_sends_strangers_to_sign_in()
    {
        await app.AddPersonAsync("door@juniper-basin.example", "correct horse battery", FleetRoles.Supervisor);
        List<string> reached = [];
        int asked = 0;
        foreach (RouteEndpoint endpoint in Endpoints().Where(endpoint => endpoint.Metadata.GetMetadata<IAllowAnonymous>() is null))
        {
            string method = endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods is [{ } first, ..] ? first : "GET";
            string path = Parameter().Replace(AddressOf(endpoint), "1");
            using HttpRequestMessage request = new(new HttpMethod(method), path);
            using HttpResponseMessage response = await app.Http.SendAsync(request);
            asked++;
            bool isSentAway = response.StatusCode == HttpStatusCode.Unauthorized
                || (response.StatusCode == HttpStatusCode.Redirect && response.Headers.Location!.PathAndQuery.StartsWith("/sign-in", StringComparison.Ordinal));
            if (!isSentAway)
            {
                reached.Add($"{method} {path}: {response.StatusCode} {response.Headers.Location}");
            }
        }

        reached.Should().BeEmpty();
        asked.Should().BeGreaterThan(10, "the pages of the Office alone are so many");
    }

    [Fact]
    public async Task A_steward_reaches_what_is_marked_for_stewards_and_nothing_else()
    {
        string[] marked = ["/count", "/count/{Code}", "/count/shifts/{Number:int}", "/time", "/time/cost", "/account/password", "/not-allowed", "/work/pass"];
        (_, PlainBrowser browser) = await app.AddBrowserAsync("Door Steward", FleetRoles.Steward);
        using PlainBrowser steward = browser;
        Endpoints().Where(endpoint => endpoint.Metadata.GetMetadata<OpenToStewardsAttribute>() is not null).Select(AddressOf).Distinct()
            .Should().BeEquivalentTo(marked);
        List<string> reached = [];
        foreach (RouteEndpoint endpoint in Endpoints().Where(endpoint => endpoint.Metadata.GetMetadata<IAllowAnonymous>() is null
            && !marked.Contains(AddressOf(endpoint)) && !AddressOf(endpoint).Contains(":file", StringComparison.Ordinal)))
        {
            string method = endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods is [{ } first, ..] ? first : "GET";
            PlainBrowser.Page page = await steward.AskAsync(new HttpMethod(method), Parameter().Replace(AddressOf(endpoint), "1"));
            if (page.Status != HttpStatusCode.Forbidden && page.Location is not ("/not-allowed" or "/count"))
            {
                reached.Add($"{method} {AddressOf(endpoint)}: {page.Status} {page.Location}");
            }
        }

        reached.Should().BeEmpty();
        (await steward.GoAsync("/not-allowed")).Status.Should().Be(HttpStatusCode.OK);
        (await steward.SendAsync("/tickets/1", await steward.GoAsync("/count"), "Act", "close")).Location.Should().Be("/not-allowed", "a steward closes no ticket");
    }

    private IEnumerable<RouteEndpoint> Endpoints() => app.Get<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>();

    private static string AddressOf(RouteEndpoint endpoint) => "/" + endpoint.RoutePattern.RawText!.TrimStart('/');

    [GeneratedRegex(@"\{[^}]+\}")]
    private static partial Regex Parameter();
}
