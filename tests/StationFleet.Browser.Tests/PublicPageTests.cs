using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using StationFleet.Domain.Boaters;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Boaters;
using StationFleet.Storage.Platform;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>A boater at the ramp, on a phone without script and without an account; then the crew.</summary>
[Collection(FortnightTests.Name)]
public sealed class PublicPageTests(Fortnight fleet)
{
    [Fact]
    public async Task A_boater_reads_the_page_in_under_60_kilobytes_and_reports_a_broken_tool_which_the_crew_makes_a_ticket_of()
    {
        await using IBrowserContext context = await fleet.Browser.NewContextAsync(Fortnight.Phone(script: false));
        IPage phone = await context.NewPageAsync();
        List<IRequest> requests = [];
        phone.RequestFinished += (_, request) => requests.Add(request);
        await phone.GotoAsync($"{fleet.Url}/a/ferry-cove", new() { WaitUntil = WaitUntilState.NetworkIdle });
        int bytes = 0;
        foreach (IRequest request in requests)
        {
            RequestSizesResult sizes = await request.SizesAsync();
            bytes += sizes.ResponseBodySize + sizes.ResponseHeadersSize;
        }

        bytes.Should().BeInRange(5_000, 60_000, "phones at the ramp have weak signal");
        await Expect(phone.GetByRole(AriaRole.Heading, new() { Name = "Clean, drain, dry." })).ToBeVisibleAsync();

        await phone.GetByLabel("What is it about?").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await phone.GetByLabel("It is broken").CheckAsync();
        await phone.GetByLabel("In your words").FillAsync("The handle came off.");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Send" }).ClickAsync();
        await Expect(phone.GetByText("Thank you. We have it, and somebody will look.")).ToBeVisibleAsync();

        PublicReport report = await ReportAsync();
        report.State.Should().Be(PublicReportState.Waiting, "no ticket is open on that tool");
        IPage desk = await fleet.SignedInAsync(FleetRoles.Biologist);
        await fleet.OpenAsync(desk, "/tickets");
        await Expect(desk.GetByText("“The handle came off.”")).ToBeVisibleAsync();
        await desk.GetByRole(AriaRole.Button, new() { Name = $"Make a ticket of report {report.Id}" }).ClickAsync();
        await Expect(desk.GetByText("a boater reported it")).ToBeVisibleAsync();

        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        (await db.Tickets.SingleAsync(ticket => ticket.Rule == Rule.PublicReport)).Part.Should().Be(report.Part);
    }

    private async Task<PublicReport> ReportAsync()
    {
        await using FleetDbContext db = await fleet.App.Databases.CreateDbContextAsync();
        return await db.PublicReports.AsNoTracking().SingleAsync();
    }
}
