using StationFleet.Storage.Accounts;
using StationFleet.Web.Accounts;
using StationFleet.Web.Tests.Office;

namespace StationFleet.Web.Tests.Accounts;

/// <summary>Each test has a server of its own, since who is the last administrator depends on everybody.</summary>
public sealed class PeopleTests : IAsyncLifetime, IDisposable
{
    private readonly FleetApp _app = new();
    private FleetUser _administrator = null!;

    public async Task InitializeAsync()
    {
        await _app.InitializeAsync();
        _administrator = await _app.AddPersonAsync("office@juniper-basin.example", "correct horse battery", FleetRoles.Administrator);
    }

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task A_new_person_needs_a_name_an_address_and_a_role()
    {
        SavePerson.Outcome.Refused refused = (SavePerson.Outcome.Refused)await SaveAsync(new SavePerson.Command());

        refused.Wrong.Keys.Should().BeEquivalentTo(nameof(SavePerson.Command.Name), nameof(SavePerson.Command.Email), nameof(SavePerson.Command.Roles));
    }

    [Fact]
    public async Task Two_people_cannot_share_an_address()
    {
        SavePerson.Outcome outcome = await SaveAsync(
            new SavePerson.Command { Name = "second", Email = "Office@juniper-basin.example", Roles = { FleetRoles.Supervisor } });

        outcome.Should().BeOfType<SavePerson.Outcome.Refused>()
            .Which.Wrong.For(nameof(SavePerson.Command.Email)).Should().Be("Somebody already has an account with this e-mail address.");
    }

    [Fact]
    public async Task Roles_and_name_change_and_browsers_must_ask_anew()
    {
        FleetUser person = await _app.AddPersonAsync("crew@juniper-basin.example", "correct horse battery", FleetRoles.Technician);

        SavePerson.Outcome outcome = await SaveAsync(
            new SavePerson.Command { Id = person.Id, Name = "crew lead", Email = "lead@juniper-basin.example", Roles = { FleetRoles.Biologist } });

        outcome.Should().BeOfType<SavePerson.Outcome.Changed>();
        ListPeople.Row row = (await ListAsync(Viewers.Administrator)).Single(row => row.Id == person.Id);
        row.Should().BeEquivalentTo(new { Name = "crew lead", Email = "lead@juniper-basin.example", Roles = new[] { FleetRoles.Biologist } });
        (await _app.FindAsync<FleetUser>(user => user.Id == person.Id)).SecurityStamp.Should().NotBe(person.SecurityStamp);
    }

    [Fact]
    public async Task The_last_administrator_stays_one_and_cannot_be_locked()
    {
        LockPerson.Outcome locked = await LockAsync(_administrator.Id);
        SavePerson.Outcome demoted = await SaveAsync(
            new SavePerson.Command { Id = _administrator.Id, Name = "office", Email = "office@juniper-basin.example", Roles = { FleetRoles.Supervisor } });
        FleetUser second = await _app.AddPersonAsync("second@juniper-basin.example", "correct horse battery", FleetRoles.Administrator);
        LockPerson.Outcome lockedThen = await LockAsync(_administrator.Id);
        LockPerson.Outcome secondThen = await LockAsync(second.Id);

        locked.Should().BeOfType<LockPerson.Outcome.LastAdministratorStays>();
        demoted.Should().BeOfType<SavePerson.Outcome.Refused>().Which.Wrong.Should().ContainKey(nameof(SavePerson.Command.Roles));
        lockedThen.Should().BeOfType<LockPerson.Outcome.Done>();
        secondThen.Should().BeOfType<LockPerson.Outcome.LastAdministratorStays>("the first one is locked");
    }

    [Fact]
    public async Task A_reset_password_replaces_the_old_one_and_is_temporary()
    {
        ResetPassword.Outcome outcome = await _app.Get<ResetPassword>().HandleAsync(Viewers.Administrator, _administrator.Id, CancellationToken.None);

        string temporary = outcome.Should().BeOfType<ResetPassword.Outcome.Done>().Which.TemporaryPassword;
        temporary.Should().MatchRegex("^([a-z2-9]{4}-){3}[a-z2-9]{4}$");
        (await ListAsync(Viewers.Administrator)).Single().HasTemporaryPassword.Should().BeTrue();
        (await SignInAsync("correct horse battery")).Location.Should().BeNull();
        (await SignInAsync(temporary)).Location.Should().Be("/");
    }

    [Fact]
    public async Task Nobody_else_manages_people()
    {
        (await ListAsync(Viewers.Biologist)).Should().BeEmpty();
        (await _app.Get<SavePerson>().HandleAsync(
            Viewers.Biologist, new SavePerson.Command { Name = "x", Email = "x@juniper-basin.example", Roles = { FleetRoles.Administrator } }, CancellationToken.None))
            .Should().BeOfType<SavePerson.Outcome.NotAllowed>();
        (await _app.Get<LockPerson>().HandleAsync(Viewers.Supervisor, new LockPerson.Command(_administrator.Id, Lock: true), CancellationToken.None))
            .Should().BeOfType<LockPerson.Outcome.NotAllowed>();
        (await _app.Get<ResetPassword>().HandleAsync(Viewers.Technician, _administrator.Id, CancellationToken.None))
            .Should().BeOfType<ResetPassword.Outcome.NotAllowed>();
    }

    private async Task<PageVisitor.Page> SignInAsync(string password)
    {
        using PageVisitor visitor = new(_app.Address);
        return await visitor.SendAsync("/sign-in", ("Typed.Email", "office@juniper-basin.example"), ("Typed.Password", password));
    }

    private Task<SavePerson.Outcome> SaveAsync(SavePerson.Command command) =>
        _app.Get<SavePerson>().HandleAsync(Viewers.Administrator, command, CancellationToken.None);

    private Task<LockPerson.Outcome> LockAsync(string id) =>
        _app.Get<LockPerson>().HandleAsync(Viewers.Administrator, new LockPerson.Command(id, Lock: true), CancellationToken.None);

    private Task<IReadOnlyList<ListPeople.Row>> ListAsync(Viewer viewer) => _app.Get<ListPeople>().HandleAsync(viewer, CancellationToken.None);
}
