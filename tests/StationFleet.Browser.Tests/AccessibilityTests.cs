using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using StationFleet.Storage.Accounts;

namespace StationFleet.Browser.Tests;

/// <summary>Each page, light and dark, on a desk and on a phone: no fault that axe can see, and nothing wider than the screen.</summary>
[Collection(FortnightTests.Name)]
public sealed class AccessibilityTests(Fortnight fleet)
{
    private static readonly string[] Interactive =
    [
        "/", "/route", "/stations", "/stations/COP-1", "/stations/COP-1/reports", "/tickets", "/season", "/season/rows/uses", "/season/rows/tickets_raised", "/season/submitted/1", "/mail", "/roster", "/rules", "/rules/quality", "/office",
        "/office/stations", "/office/stations/PORT-A", "/office/accesses", "/office/accesses/dam-road", "/office/known-days", "/office/agencies",
        "/office/people", "/office/set-aside", "/office/logger-files", "/office/route", "/office/parts", "/office/disposal", "/office/checklists",
        "/equipment", "/equipment/1", "/equipment/new", "/awards", "/awards/1", "/awards/terms",
        "/counts", "/samples", "/samples/COP-1-260701-A", "/samples/taxa", "/samples/finds", "/samples/exchange", "/samples/season", "/samples/plan", "/samples/planned",
    ];

    private static readonly string[] Static =
    [
        "/work", "/work/stations", "/pump-outs", "/tickets/1", "/account/password", "/account/mail", "/sign-out", "/time", "/time/cost",
        "/equipment/inventory", "/equipment/inventory/1", "/equipment/seen/1",
        "/a/dam-road", "/stations/PORT-A/checklists", "/stations/PORT-A/checklists/clean-to-move",
        "/samples/take", "/samples/COP-1-260701-A/count", "/count", "/count/COP-1", "/count/shifts/1",
    ];

    public static TheoryData<bool, bool> Looks => new() { { false, false }, { false, true }, { true, false }, { true, true } };

    [Theory]
    [MemberData(nameof(Looks))]
    public async Task No_page_has_a_fault_that_axe_can_see(bool onPhone, bool dark)
    {
        IPage page = await fleet.SignedInAsync(FleetRoles.Administrator, onPhone ? Fortnight.Phone(dark: dark) : Fortnight.Desktop(dark));
        List<string> faults = [];
        foreach (string path in Interactive)
        {
            await fleet.OpenAsync(page, path);
            faults.AddRange(await FaultsAsync(page, path));
        }

        foreach (string path in Static)
        {
            await page.GotoAsync(fleet.Url + path);
            faults.AddRange(await FaultsAsync(page, path));
        }

        faults.Should().BeEmpty();
    }

    internal static async Task<IEnumerable<string>> FaultsAsync(IPage page, string path)
    {
        AxeResult result = await page.RunAxe();
        int overflow = await page.EvaluateAsync<int>("document.documentElement.scrollWidth - document.documentElement.clientWidth");
        return result.Violations
            .Select(fault => $"{path}: {fault.Id}: {fault.Help}: {string.Join(" | ", fault.Nodes.Take(3).Select(node => node.Html))}")
            .Concat(overflow > 0 ? [$"{path}: is {overflow} px wider than the screen"] : []);
    }
}
