using System.Net;
using System.Text.RegularExpressions;

namespace StationFleet.Web.Tests.Accounts;

/// <summary>Visits pages as a browser without script does: keeps cookies, sends forms with their hidden fields, follows nothing by itself.</summary>
internal sealed partial class PageVisitor(Uri address) : IDisposable
{
    private readonly HttpClient _http = new(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = address };

    public async Task<Page> GetAsync(string path) => await PageOf(await _http.GetAsync(new Uri(path, UriKind.Relative)));

    /// <summary>Opens a page and sends its form with these fields filled in.</summary>
    public async Task<Page> SendAsync(string path, params (string Name, string Value)[] fields)
    {
        Page page = await GetAsync(path);
        page.Status.Should().Be(HttpStatusCode.OK, $"{path} holds the form");
        Dictionary<string, string> form = fields.ToDictionary(field => field.Name, field => field.Value);
        foreach (Match hidden in HiddenField().Matches(page.Text))
        {
            form[hidden.Groups["name"].Value] = WebUtility.HtmlDecode(hidden.Groups["value"].Value);
        }

        return await PostAsync(path, form);
    }

    public async Task<Page> PostAsync(string path, IReadOnlyDictionary<string, string> form)
    {
        using FormUrlEncodedContent content = new(form);
        return await PageOf(await _http.PostAsync(new Uri(path, UriKind.Relative), content));
    }

    public void Dispose() => _http.Dispose();

    private static async Task<Page> PageOf(HttpResponseMessage response)
    {
        using (response)
        {
            Uri? location = response.Headers.Location;
            string? path = location is { IsAbsoluteUri: true } ? location.PathAndQuery : location?.OriginalString;
            return new Page(response.StatusCode, path, WebUtility.HtmlDecode(await response.Content.ReadAsStringAsync()));
        }
    }

    [GeneratedRegex("""<input type="hidden" name="(?<name>[^"]+)" value="(?<value>[^"]*)" ?/?>""")]
    private static partial Regex HiddenField();

    /// <param name="Status">The answer's status.</param>
    /// <param name="Location">Where it leads, as a path.</param>
    /// <param name="Text">The document, with character references resolved.</param>
    internal sealed record Page(HttpStatusCode Status, string? Location, string Text);
}
