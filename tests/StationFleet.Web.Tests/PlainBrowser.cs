using System.Net;
using System.Text.RegularExpressions;

namespace StationFleet.Web.Tests;

/// <summary>A browser without script: loads a page, fills its form, presses a button.</summary>
internal sealed partial class PlainBrowser : IDisposable
{
    private readonly HttpClient _http;

    public PlainBrowser(Uri address, Cookie cookie)
    {
        CookieContainer cookies = new();
        cookies.Add(address, new Cookie(cookie.Name, cookie.Value, "/"));
        _http = new HttpClient(new HttpClientHandler { CookieContainer = cookies, AllowAutoRedirect = false }) { BaseAddress = address };
    }

    public async Task<Page> GoAsync(string path)
    {
        HttpResponseMessage response = await _http.GetAsync(path);
        return new Page(response.StatusCode, response.Headers.Location?.ToString(), await response.Content.ReadAsStringAsync());
    }

    public async Task<Page> AskAsync(HttpMethod method, string path)
    {
        using HttpRequestMessage request = new(method, path);
        HttpResponseMessage response = await _http.SendAsync(request);
        return new Page(response.StatusCode, response.Headers.Location?.ToString(), await response.Content.ReadAsStringAsync());
    }

    /// <summary>Sends the form of a button with its hidden fields, what is typed over them, and the pressed button.</summary>
    public async Task<Page> SendAsync(string path, Page page, string button, string value, params (string Name, string Value)[] typed)
    {
        List<KeyValuePair<string, string>> fields = [.. page.FormOf(button, value).HiddenFields.Where(field => typed.All(own => own.Name != field.Key))];
        fields.AddRange(typed.Select(field => KeyValuePair.Create(field.Name, field.Value)));
        fields.Add(KeyValuePair.Create(button, value));
        HttpResponseMessage response = await _http.PostAsync(path, new FormUrlEncodedContent(fields));
        return new Page(response.StatusCode, response.Headers.Location?.ToString(), await response.Content.ReadAsStringAsync());
    }

    public void Dispose() => _http.Dispose();

    internal sealed partial record Page(HttpStatusCode Status, string? Location, string Html)
    {
        public IReadOnlyList<KeyValuePair<string, string>> HiddenFields =>
            [.. Hidden().Matches(Html).Select(match => KeyValuePair.Create(Attribute(match.Value, "name"), Attribute(match.Value, "value")))];

        /// <summary>The page's form that has a button; the first one where none has, as for somebody who forges it.</summary>
        public Page FormOf(string button, string value)
        {
            string[] forms = [.. Forms().Matches(Html).Select(match => match.Value)];
            string[] named = [.. forms.Where(form => form.Contains($" name=\"{button}\"", StringComparison.Ordinal))];
            return this with
            {
                Html = named.FirstOrDefault(form => form.Contains($" value=\"{WebUtility.HtmlEncode(value)}\"", StringComparison.Ordinal))
                    ?? named.FirstOrDefault() ?? forms.FirstOrDefault() ?? Html,
            };
        }

        /// <summary>What a reader sees, roughly: without tags, with single spaces.</summary>
        public string Words => WebUtility.HtmlDecode(Spaces().Replace(Tags().Replace(Html, " "), " "));

        /// <summary>The value that a field holds.</summary>
        public string Field(string name) =>
            Attribute(Inputs().Matches(Html).Select(match => match.Value).First(input => Attribute(input, "name") == name), "value");

        public string TextArea(string name) =>
            WebUtility.HtmlDecode(Regex.Match(Html, $"<textarea[^>]*name=\"{name}\"[^>]*>(.*?)</textarea>", RegexOptions.Singleline).Groups[1].Value);

        public bool IsChecked(string name, string value) => Inputs().Matches(Html).Select(match => match.Value)
            .Any(input => Attribute(input, "name") == name && Attribute(input, "value") == value && input.Contains(" checked", StringComparison.Ordinal));

        public string? WrongBeside(string name)
        {
            Match match = Regex.Match(Html, $"id=\"wrong-{name}\">(.*?)<", RegexOptions.Singleline);
            return match.Success ? WebUtility.HtmlDecode(match.Groups[1].Value) : null;
        }

        private static string Attribute(string tag, string name) =>
            WebUtility.HtmlDecode(Regex.Match(tag, $" {name}=\"([^\"]*)\"").Groups[1].Value);

        [GeneratedRegex("<form.*?</form>", RegexOptions.Singleline)]
        private static partial Regex Forms();

        [GeneratedRegex("<input[^>]*type=\"hidden\"[^>]*>")]
        private static partial Regex Hidden();

        [GeneratedRegex("<input[^>]*>")]
        private static partial Regex Inputs();

        [GeneratedRegex("<[^>]*>")]
        private static partial Regex Tags();

        [GeneratedRegex(@"\s+")]
        private static partial Regex Spaces();
    }
}
