using Microsoft.Playwright;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using static Microsoft.Playwright.Assertions;

namespace StationFleet.Browser.Tests;

/// <summary>A biologist words a rule's checklist and cautions in the Office, and takes the defaults back.</summary>
[Collection(FortnightTests.Name)]
public sealed class GuidanceJobTests(Fortnight fleet)
{
    [Fact]
    public async Task Steps_and_cautions_of_a_rule_are_worded_anew_and_reset_and_the_history_tells()
    {
        string name = ProblemSentences.Name(Rule.ClockWrong);
        string ramp = Cautions.For(Rule.ClockWrong)[^1];
        IPage page = await fleet.SignedInAsync(FleetRoles.Biologist);
        await fleet.OpenAsync(page, "/office/checklists");
        ILocator section = page.GetByRole(AriaRole.Region, new() { Name = name, Exact = true });
        await section.GetByRole(AriaRole.Button, new() { Name = $"Change {name}" }).ClickAsync();
        ILocator form = page.GetByRole(AriaRole.Form, new() { Name = $"Change {name}" });
        await form.GetByLabel("Steps, one to a line").FillAsync("Compare with your watch.\nSet it.");
        await form.GetByLabel("Cautions of your own, one to a line").FillAsync("Wasps nest in the box in August.");
        await form.GetByLabel(ramp).UncheckAsync();
        await form.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();
        await Expect(form.GetByText("Say why a default caution is left out: people may get hurt by what it warns of.")).ToBeVisibleAsync();
        await form.GetByLabel("Why").FillAsync("No ramp at any of ours.");
        await form.GetByRole(AriaRole.Button, new() { Name = "Save" }).ClickAsync();

        await Expect(section.GetByText("Wasps nest in the box in August.")).ToBeVisibleAsync();
        await Expect(section.GetByText("Set it.")).ToBeVisibleAsync();
        await Expect(section.GetByText($"Left out: {ramp}")).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToHaveTextAsync("One rule has a checklist or cautions of your own.");
        await Expect(page.GetByRole(AriaRole.Cell, new() { Name = "No ramp at any of ours." })).ToBeVisibleAsync();
        await section.GetByRole(AriaRole.Button, new() { Name = $"Reset {name}" }).ClickAsync();

        await Expect(section.GetByText("The defaults.")).ToBeVisibleAsync();
        await Expect(section.GetByText(ramp)).ToBeVisibleAsync();
        await Expect(page.GetByRole(AriaRole.Cell, new() { Name = "back to the defaults", Exact = true })).ToBeVisibleAsync();
    }
}
