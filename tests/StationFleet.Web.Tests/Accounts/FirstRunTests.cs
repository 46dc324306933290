using System.Net;
using StationFleet.Web.Accounts;

namespace StationFleet.Web.Tests.Accounts;

/// <summary>Each test has a server of its own, since the first account can be made only once.</summary>
public sealed class FirstRunTests : IAsyncLifetime, IDisposable
{
    private readonly FleetApp _app = new();
    private PageVisitor _visitor = null!;

    private string Code => _app.Get<FirstRun>().Code;

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        _visitor = new PageVisitor(_app.Address);
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose()
    {
        _visitor.Dispose();
        _app.Dispose();
    }

    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/office")]
    [InlineData("/office/stations/COP-1")]
    [InlineData("/account/password")]
    public async Task While_nobody_has_an_account_every_page_leads_to_the_first_run(string page) =>
        (await _visitor.GetAsync(page)).Location.Should().Be("/first-run");

    [Fact]
    public async Task A_wrong_code_says_so_and_keeps_what_was_typed_but_never_the_password()
    {
        PageVisitor.Page answer = await FillAsync("AAAAA-AAAAA", password: "correct horse battery");

        answer.Status.Should().Be(HttpStatusCode.OK);
        answer.Text.Should().Contain("This is not the code that the server printed")
            .And.Contain("""value="AAAAA-AAAAA" """.Trim())
            .And.Contain("value=\"office@juniper-basin.example\"")
            .And.NotContain("correct horse battery");
        (await _visitor.GetAsync("/sign-in")).Location.Should().Be("/first-run", "no account was made");
    }

    [Fact]
    public async Task A_short_password_and_a_strange_address_are_refused_beside_their_fields()
    {
        PageVisitor.Page answer = await FillAsync(Code, email: "office", password: "elevenchars");

        answer.Text.Should().Contain("This is not an e-mail address.").And.Contain("Choose at least 12 characters.");
    }

    [Fact]
    public async Task The_code_makes_the_administrator_signs_in_and_then_the_page_is_gone()
    {
        PageVisitor.Page answer = await FillAsync(Code.ToLowerInvariant().Replace("-", " ", StringComparison.Ordinal));

        answer.Location.Should().Be("/office");
        (await _visitor.GetAsync("/office")).Text.Should().Contain("/office/people", "an administrator manages people");
        (await _visitor.GetAsync("/first-run")).Status.Should().Be(HttpStatusCode.NotFound);
    }

    private Task<PageVisitor.Page> FillAsync(
        string code, string email = "office@juniper-basin.example", string password = "correct horse battery") => _visitor.SendAsync(
        "/first-run",
        ("Typed.Code", code),
        ("Typed.Name", "office"),
        ("Typed.Email", email),
        ("Typed.Password", password),
        ("Typed.PasswordAgain", password));
}
