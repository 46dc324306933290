using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Platform;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>The programmer's page and the page Set aside in a browser, with reports by HTTP while they are open.</summary>
[Collection(FortnightTests.Name)]
public sealed class IntakePagesTests(Fortnight fleet)
{
    [Fact]
    public async Task A_report_that_arrives_is_told_without_a_reload_and_shown_record_by_record()
    {
        (Station station, string key) = await StationAsync("OTT-1");
        IPage page = await fleet.SignedInAsync(FleetRoles.Technician);
        await fleet.OpenAsync(page, $"/stations/{station.Code}/reports");
        ILocator headline = page.GetByRole(AriaRole.Heading, new() { Level = 1 });
        await Expect(headline).ToContainTextAsync("Your last report arrived");

        await PostAsync(key, """[{"bn":"OTT-1/","bt":1783515907,"n":"air/temperature","u":"Cel","v":21.5},{"n":"battery/voltage","u":"A","v":12}]""", HttpStatusCode.OK);

        await Expect(headline).ToContainTextAsync("was taken: 1 new, 0 repeated, 1 set aside.");
        await page.Locator("table.reports .link").First.ClickAsync();
        await Expect(page.Locator(".in-full")).ToContainTextAsync("air temperature: 21.5 °C");
        await Expect(page.Locator(".in-full")).ToContainTextAsync("does not fit battery/voltage");
        await PostAsync(key, "[{", HttpStatusCode.BadRequest);
        await Expect(headline).ToContainTextAsync("was refused with 400");
        await page.GetByLabel("SenML pack").FillAsync("""[{"bn":"OTT-1/","bt":1783515907,"n":"air/temperature","u":"Cel","v":21.5}]""");
        await page.GetByRole(AriaRole.Button, new() { Name = "Try it" }).ClickAsync();
        await Expect(page.GetByText("It would be taken with 200: 0 new, 1 repeated. Nothing was stored.")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_record_set_aside_is_retried_after_the_station_was_corrected_and_another_is_discarded()
    {
        (Station station, string key) = await StationAsync("SOR-1");
        await PostAsync(
            key, """[{"bn":"SOR-1/","n":"air/temperature","t":-8,"u":"Cel","v":21.5},{"n":"label","t":-8,"vs":"x"}]""", HttpStatusCode.UnprocessableEntity);
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);
        await fleet.OpenAsync(page, "/office/set-aside?Station=SOR-1");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("Two records of SOR-1 wait for a decision.");
        await fleet.App.Databases.WriteAsync(
            async db => (await db.Stations.SingleAsync(row => row.Id == station.Id)).HasNoClock = true, CancellationToken.None);

        await page.GetByRole(AriaRole.Button, new() { Name = "Retry all of SOR-1, Time relative to now" }).ClickAsync();

        await Expect(page.GetByRole(AriaRole.Status)).ToHaveTextAsync("One is taken now.");
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("One record of SOR-1 waits for a decision.");
        await page.GetByRole(AriaRole.Button, new() { Name = "Discard all of SOR-1, No number" }).ClickAsync();
        await page.GetByRole(AriaRole.Dialog).GetByRole(AriaRole.Button, new() { Name = "Discard" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Status)).ToHaveTextAsync("One was discarded.");
        await Expect(page.Locator(".need.aside").GetByText("SOR-1")).ToHaveCountAsync(0);
    }

    private async Task<(Station Station, string Key)> StationAsync(string code)
    {
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        Station station = await db.Stations.AsNoTracking().SingleAsync(row => row.Code == code);
        return (station, await fleet.App.AddKeyAsync(station.Id));
    }

    private async Task PostAsync(string key, string body, HttpStatusCode expected)
    {
        using HttpRequestMessage request = new(HttpMethod.Post, "/api/v1/reports") { Content = new StringContent(body, Encoding.UTF8, "application/senml+json") };
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        using HttpResponseMessage answer = await fleet.App.Http.SendAsync(request);
        answer.StatusCode.Should().Be(expected);
    }
}
