using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;
using SkiaSharp;
using StationFleet.Storage.Accounts;

namespace StationFleet.Browser.Tests;

/// <summary>A technician's phone with a wire to the server that can fail, and a browser that can be closed and opened again.</summary>
internal sealed class PhoneInTheField : IAsyncDisposable
{
    public const string Password = "weed and lake water 7";

    private static readonly byte[] Taken = TakePicture();

    private readonly DirectoryInfo _memory = Directory.CreateTempSubdirectory("phone-");
    private IPlaywright _playwright = null!;
    private IBrowserContext _browser = null!;

    private PhoneInTheField(FleetApp app) => Wire = new Wire(app.Address.Port);

    public Wire Wire { get; }

    public IPage Page { get; private set; } = null!;

    public string Url => Wire.Url;

    public static async Task<PhoneInTheField> OpenAsync(FleetApp app)
    {
        PhoneInTheField phone = new(app) { _playwright = await Playwright.CreateAsync() };
        await phone.StartBrowserAsync();
        return phone;
    }

    public static Task<FleetUser> AddTechnicianAsync(FleetApp app, string email) => app.AddPersonAsync(email, Password, FleetRoles.Technician);

    public async Task SignInAsync(string email)
    {
        await Page.GotoAsync($"{Url}/sign-in?ReturnUrl=/work");
        await Page.GetByLabel("E-mail").FillAsync(email);
        await Page.GetByLabel("Password").FillAsync(Password);
        await Page.GetByLabel("Stay signed in on this device").CheckAsync();
        await Page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await Page.WaitForURLAsync(url => !url.Contains("sign-in", StringComparison.Ordinal));
    }

    /// <summary>Opens My work with signal and waits until the phone keeps it and the tickets.</summary>
    public Task FillAsync(params int[] tickets) => FillAsync([.. tickets.Select(ticket => string.Create(CultureInfo.InvariantCulture, $"/tickets/{ticket}"))]);

    /// <summary>The same for pages that My work marks.</summary>
    public async Task FillAsync(params string[] pages)
    {
        await GoAsync("/work");
        string wanted = JsonSerializer.Serialize(pages.Append("/work"));
        await WaitAsync(
            "(await navigator.serviceWorker.ready).active"
            + $" && await (async kept => {wanted}.every(path => kept.includes(path)))((await (await caches.open('phone-pages')).keys()).map(one => new URL(one.url).pathname))");
    }

    public Task OpenTicketAsync(int number) => GoAsync(string.Create(CultureInfo.InvariantCulture, $"/tickets/{number}"));

    /// <summary>Opens a page, once more where the page before it went to its answer at the very same moment.</summary>
    public async Task GoAsync(string path)
    {
        for (int attempt = 1; ; attempt++)
        {
            try
            {
                await Page.GotoAsync(Url + path);
                return;
            }
            catch (PlaywrightException overtaken) when (attempt < 10 && IsOvertaken(overtaken.Message))
            {
                await Task.Delay(TimeSpan.FromMilliseconds(200));
            }
        }
    }

    // Two wordings of one thing, by when it happens.
    private static bool IsOvertaken(string failure) =>
        failure.Contains("ERR_ABORTED", StringComparison.Ordinal) || failure.Contains("interrupted by another navigation", StringComparison.Ordinal);

    public Task SetOfflineAsync(bool isOffline) => _browser.SetOfflineAsync(isOffline);

    public async Task RestartAsync()
    {
        await _browser.CloseAsync();
        await StartBrowserAsync();
    }

    /// <summary>Fills the form as a person does.</summary>
    public async Task WriteAsync(string found, string gallons = "", string minutes = "")
    {
        await Page.GetByLabel("What you found").FillAsync(found);
        await Page.GetByLabel("Gallons pumped out").FillAsync(gallons);
        await Page.GetByLabel("Minutes here").FillAsync(minutes);
        await Page.Locator("input[name=Steps]").First.CheckAsync();
        await Page.GetByLabel("Fixed").CheckAsync();
    }

    /// <summary>Chooses a picture of 3000 by 2000 pixels, as a phone takes them.</summary>
    public Task PhotographAsync() => Page.GetByLabel("Photographs").SetInputFilesAsync(new FilePayload { Name = "tank.jpg", MimeType = "image/jpeg", Buffer = Taken });

    /// <summary>Presses a button of the form, twice if wet gloves do, and waits until the phone has kept it.</summary>
    public async Task PressAsync(int number, string act, bool twice = false)
    {
        await Page.EvaluateAsync(
            $"() => {{ const button = document.querySelector('button[name=Act][value={act}]'); button.click(); {(twice ? "button.click();" : "")} }}");
        await WaitAsync($"(await phoneQueue.all()).some(entry => entry.about === 'T-{number}' && entry.act === '{act}')");
    }

    /// <summary>Waits until something is true of the page or its queue, while pages come and go.</summary>
    public async Task WaitAsync(string condition)
    {
        for (int attempt = 0; !await IsTrueAsync(condition); attempt++)
        {
            if (attempt == 300)
            {
                string state = await Page.EvaluateAsync<string>(
                    "async () => document.body.innerText.slice(0, 600) + JSON.stringify((await self.phoneQueue?.all() ?? []).filter(entry => entry.state !== 'sent').map(entry => [entry.about, entry.act, entry.state, entry.status]))");
                throw new TimeoutException($"Never true: {condition}\n{Page.Url}: {state}");
            }

            await Task.Delay(TimeSpan.FromMilliseconds(100));
        }
    }

    private async Task<bool> IsTrueAsync(string condition)
    {
        try
        {
            return await Page.EvaluateAsync<bool>($"async () => Boolean({condition})");
        }
        catch (PlaywrightException)
        {
            return false; // the page moved on while it was asked
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _browser.CloseAsync();
        _playwright.Dispose();
        await Wire.DisposeAsync();
        _memory.Delete(recursive: true);
    }

    private static byte[] TakePicture()
    {
        using SKBitmap picture = new(3000, 2000);
        picture.Erase(SKColors.SteelBlue);
        using SKData jpeg = picture.Encode(SKEncodedImageFormat.Jpeg, 90);
        return jpeg.ToArray();
    }

    private async Task StartBrowserAsync()
    {
        _browser = await Chromium.LaunchPhoneAsync(_playwright, _memory.FullName);
        Page = _browser.Pages.Count > 0 ? _browser.Pages[0] : await _browser.NewPageAsync();
    }
}
