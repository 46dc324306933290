using System.Net;
using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;
using StationFleet.Web.Tests.Office;

namespace StationFleet.Web.Tests.Accounts;

public sealed class SignInTests(FleetApp app) : IClassFixture<FleetApp>, IDisposable
{
    private const string Password = "correct horse battery";
    private const string Refusal = "The e-mail or the password is wrong, or the account is locked.";

    private static int _people;

    private readonly PageVisitor _visitor = new(app.Address);

    [Fact]
    public async Task The_right_password_opens_the_page_that_was_asked_for()
    {
        string email = await AddPersonAsync();

        (await _visitor.GetAsync("/office/accesses")).Location.Should().Be("/sign-in?ReturnUrl=%2Foffice%2Faccesses");
        PageVisitor.Page answer = await SignInAsync(email, Password, "/office/accesses");

        answer.Location.Should().Be("/office/accesses");
        (await _visitor.GetAsync("/office/accesses")).Status.Should().Be(HttpStatusCode.OK);
    }

    [Theory]
    [InlineData("https://elsewhere.example/")]
    [InlineData("//elsewhere.example")]
    [InlineData("/\\elsewhere.example")]
    [InlineData("javascript:alert(1)")]
    public async Task A_return_address_elsewhere_leads_home(string elsewhere)
    {
        string email = await AddPersonAsync();

        (await SignInAsync(email, Password, elsewhere)).Location.Should().Be("/");
    }

    [Fact]
    public async Task A_wrong_password_and_an_unknown_address_get_the_same_answer_and_keep_the_address()
    {
        string email = await AddPersonAsync();

        PageVisitor.Page wrong = await SignInAsync(email, "wrong wrong wrong");
        PageVisitor.Page unknown = await SignInAsync("nobody@juniper-basin.example", "wrong wrong wrong");

        wrong.Text.Should().Contain(Refusal).And.Contain($"value=\"{email}\"").And.NotContain("wrong wrong wrong");
        unknown.Status.Should().Be(wrong.Status);
        unknown.Text.Should().Contain(Refusal);
    }

    [Fact]
    public async Task After_five_wrong_tries_the_right_password_is_refused_too_until_somebody_unlocks()
    {
        string email = await AddPersonAsync();
        FleetUser person = await FindAsync(email);
        for (int i = 0; i < 5; i++)
        {
            await SignInAsync(email, "wrong wrong wrong");
        }

        PageVisitor.Page locked = await SignInAsync(email, Password);
        await app.Get<LockPerson>().HandleAsync(Viewers.Administrator, new LockPerson.Command(person.Id, Lock: false), CancellationToken.None);
        PageVisitor.Page unlocked = await SignInAsync(email, Password);

        locked.Text.Should().Contain(Refusal).And.Contain("locked for 15 minutes");
        unlocked.Location.Should().Be("/");
    }

    [Fact]
    public async Task Asking_to_sign_out_asks_first_and_only_the_form_does_it()
    {
        await SignInAsync(await AddPersonAsync(), Password);

        (await _visitor.GetAsync("/sign-out")).Text.Should().Contain("Sign out on this device?");
        (await _visitor.GetAsync("/office")).Status.Should().Be(HttpStatusCode.OK, "looking at the question changes nothing");
        (await _visitor.SendAsync("/sign-out")).Location.Should().Be("/sign-in");
        (await _visitor.GetAsync("/office")).Status.Should().Be(HttpStatusCode.Redirect);
    }

    [Fact]
    public async Task A_form_without_its_token_is_refused()
    {
        string email = await AddPersonAsync();

        PageVisitor.Page answer = await _visitor.PostAsync(
            "/sign-in", new Dictionary<string, string> { ["_handler"] = "sign-in", ["Typed.Email"] = email, ["Typed.Password"] = Password });

        answer.Status.Should().Be(HttpStatusCode.BadRequest);
    }

    [Fact]
    public async Task A_temporary_password_opens_only_the_page_that_replaces_it()
    {
        string email = $"new{Interlocked.Increment(ref _people)}@juniper-basin.example";
        await AddPersonAsync();
        SavePerson.Outcome.Added added = (SavePerson.Outcome.Added)await app.Get<SavePerson>().HandleAsync(
            Viewers.Administrator,
            new SavePerson.Command { Name = "field crew", Email = email, Roles = { FleetRoles.Technician } },
            CancellationToken.None);

        await SignInAsync(email, added.TemporaryPassword);
        (await _visitor.GetAsync("/office")).Location.Should().Be("/account/password");
        PageVisitor.Page wrong = await ChangeAsync("not the present one");
        PageVisitor.Page right = await ChangeAsync(added.TemporaryPassword);

        wrong.Text.Should().Contain("This is not your present password.");
        right.Location.Should().Be("/account/password?done=true");
        (await _visitor.GetAsync("/office")).Status.Should().Be(HttpStatusCode.OK);
        (await SignInAsync(email, added.TemporaryPassword)).Text.Should().Contain(Refusal, "it is replaced");
    }

    public void Dispose() => _visitor.Dispose();

    private Task<PageVisitor.Page> ChangeAsync(string present) => _visitor.SendAsync(
        "/account/password",
        ("Typed.Present", present),
        ("Typed.Password", "a password of my own"),
        ("Typed.PasswordAgain", "a password of my own"));

    private Task<PageVisitor.Page> SignInAsync(string email, string password, string? returnUrl = null) => _visitor.SendAsync(
        returnUrl is null ? "/sign-in" : $"/sign-in?ReturnUrl={Uri.EscapeDataString(returnUrl)}", ("Typed.Email", email), ("Typed.Password", password));

    private async Task<string> AddPersonAsync()
    {
        string email = $"person{Interlocked.Increment(ref _people)}@juniper-basin.example";
        await app.AddPersonAsync(email, Password, FleetRoles.Biologist);
        return email;
    }

    private async Task<FleetUser> FindAsync(string email) =>
        await app.FindAsync<FleetUser>(user => user.Email == email);
}
