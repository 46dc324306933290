using Microsoft.EntityFrameworkCore;
using StationFleet.Domain.Service;
using StationFleet.Domain.Watch;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Fleet;
using StationFleet.Storage.Service;
using StationFleet.Web.Accounts;
using StationFleet.Web.Duty;
using StationFleet.Web.Service;
using StationFleet.Web.Service.Guiding;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Service;

/// <summary>The Office edits what tickets of a rule tell people; the ticket's page and its mail follow.</summary>
public sealed class GuidanceTests : IAsyncLifetime, IDisposable
{
    private const string Hook = "The hook of the left hose has a sharp edge.";
    private static readonly string Lifting = Cautions.For(Rule.TankFilling)[0];

    private readonly FleetApp _app = new();

    public Task InitializeAsync() => _app.InitializeAsync();

    public Task DisposeAsync() => ((IAsyncLifetime)_app).DisposeAsync();

    public void Dispose() => _app.Dispose();

    [Fact]
    public async Task Own_steps_and_cautions_stand_on_the_ticket_and_in_its_mail()
    {
        await _app.AddTankTicketAsync(121);
        await _app.AddPersonAsync("biologist@juniper-basin.example", "correct horse battery", FleetRoles.Biologist);
        FormOutcome saved = await SaveAsync(new() { Rule = Rule.TankFilling, Steps = "Call the treatment works.\nPump out.", Added = Hook });

        await _app.Get<CallPeople>().HandleAsync(CancellationToken.None);

        saved.Should().BeOfType<FormOutcome.Saved>();
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        using PlainBrowser technician = browser;
        (await technician.GoAsync("/tickets/121")).Words.Should().Contain(Lifting).And.Contain(Hook).And.Contain("Call the treatment works.")
            .And.NotContain(Checklists.For(Rule.TankFilling)[1]);
        string mail = (await _app.ReadAsync(db => db.OutgoingMails.AsNoTracking().ToListAsync())).Should().ContainSingle().Which.Text.ReplaceLineEndings(" ");
        mail.Should().Contain("sharp edge").And.Contain("Call the treatment works.");
        (await ChangesAsync()).Should().ContainSingle().Which.Who.Should().Be(Viewers.Biologist.Name);
    }

    [Fact]
    public async Task A_default_caution_is_left_out_only_with_a_reason_which_is_kept()
    {
        FormOutcome silent = await SaveAsync(new() { Rule = Rule.TankFilling, Steps = "Pump out.", Removed = [Lifting] });
        FormOutcome told = await SaveAsync(new() { Rule = Rule.TankFilling, Steps = "Pump out.", Removed = [Lifting], Reason = "All our tanks are buried." });

        silent.Should().BeOfType<FormOutcome.Refused>().Which.Wrong.For(nameof(SaveGuidance.Command.Reason)).Should()
            .Be("Say why a default caution is left out: people may get hurt by what it warns of.");
        told.Should().BeOfType<FormOutcome.Saved>();
        ReadGuidance.View view = await ReadAsync();
        view.Rows.Single(row => row.Rule == Rule.TankFilling).Cautions.Should().NotContain(Lifting).And.HaveCount(Cautions.For(Rule.TankFilling).Count - 1);
        view.History.Should().ContainSingle().Which.Reason.Should().Be("All our tanks are buried.");
        view.Rows.Where(row => row.Rule != Rule.TankFilling).Should().OnlyContain(row => row.Edit.IsDefault);
    }

    [Fact]
    public async Task Back_to_the_defaults_leaves_the_history()
    {
        await SaveAsync(new() { Rule = Rule.LowCharge, Steps = "Look.", Added = Hook });
        await SaveAsync(SaveGuidance.Command.Default(Rule.LowCharge));
        await SaveAsync(SaveGuidance.Command.Default(Rule.LowCharge));

        ReadGuidance.View view = await ReadAsync();
        view.Rows.Should().OnlyContain(row => row.Edit.IsDefault);
        view.History.Select(change => change.What).Should().Equal("back to the defaults", $"steps: Look.; cautions added: {Hook}");
    }

    [Fact]
    public async Task A_form_that_a_phone_kept_from_before_a_change_loses_no_step()
    {
        await _app.AddTankTicketAsync(121);
        (_, PlainBrowser browser) = await _app.AddBrowserAsync("field crew", FleetRoles.Technician);
        using PlainBrowser technician = browser;
        PlainBrowser.Page kept = await technician.GoAsync("/tickets/121");
        string old = Checklists.For(Rule.TankFilling)[1];
        await SaveAsync(new() { Rule = Rule.TankFilling, Steps = "Call the treatment works." });

        await technician.SendAsync("/tickets/121", kept, "Act", "close", ("Steps", old), ("Outcome", nameof(TicketOutcome.Fixed)), ("DoneAt", ""), ("Minutes", "20"));

        (await _app.VisitsAsync(121)).Should().ContainSingle().Which.Note.Should().Be($"Done: {old}");
    }

    [Fact]
    public async Task Only_biologists_of_the_whole_fleet_change_it()
    {
        Agency agency = await _app.Databases.AddAgencyAsync();
        SaveGuidance.Command command = new() { Rule = Rule.LowCharge, Steps = "Look." };

        foreach (Viewer viewer in new[] { Viewers.Technician, Viewers.Supervisor, Viewers.BiologistOf(agency.Id) })
        {
            (await _app.Get<SaveGuidance>().HandleAsync(viewer, command, CancellationToken.None)).Should().BeOfType<FormOutcome.NotAllowed>();
        }

        (await ChangesAsync()).Should().BeEmpty();
    }

    private Task<FormOutcome> SaveAsync(SaveGuidance.Command command) => _app.Get<SaveGuidance>().HandleAsync(Viewers.Biologist, command, CancellationToken.None);

    private Task<ReadGuidance.View> ReadAsync() => _app.Get<ReadGuidance>().HandleAsync(Viewers.Biologist, CancellationToken.None);

    private Task<GuidanceChange[]> ChangesAsync() => _app.ReadAsync(db => db.GuidanceChanges.AsNoTracking().ToArrayAsync());
}
