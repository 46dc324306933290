using StationFleet.Storage.Accounts;
using StationFleet.Storage.Mail;
using StationFleet.Web.Accounts;
using StationFleet.Web.Mail;

namespace StationFleet.Web.Tests.Mail;

public sealed class ResendMailTests
{
    private const string Biologist = "biologist@juniper-basin.example";

    [Fact]
    public async Task A_dead_mail_sent_again_keeps_its_id_and_starts_its_tries_anew()
    {
        await using TestSmtpServer server = new();
        server.Answer(Biologist, new SmtpAnswer.AtRecipient(550, "unknown"));
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(Biologist);
        await desk.SendAsync();

        ResendMail.Outcome outcome = await ResendAsync(desk, id);
        await desk.SendAsync();

        outcome.Should().BeOfType<ResendMail.Outcome.Queued>();
        OutgoingMail mail = await desk.FindAsync(id);
        (mail.State, mail.Attempts).Should().Be((MailState.Sent, 1));
        server.Arrived.Should().ContainSingle().Which.Message.MessageId.Should().Be(mail.MessageId);
    }

    [Fact]
    public async Task A_sent_mail_is_sent_again_only_when_the_person_insists()
    {
        await using TestSmtpServer server = new();
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(Biologist);
        await desk.SendAsync();

        ResendMail.Outcome first = await ResendAsync(desk, id);
        await desk.SendAsync();

        first.Should().Be(new ResendMail.Outcome.AlreadySent(MailDesk.Begin));
        server.Arrived.Should().ContainSingle();

        ResendMail.Outcome second = await ResendAsync(desk, id, evenIfSent: true);
        await desk.SendAsync();

        second.Should().BeOfType<ResendMail.Outcome.Queued>();
        server.Arrived.Should().HaveCount(2);
    }

    [Fact]
    public async Task A_waiting_mail_is_left_alone_and_a_supervisor_only_reads()
    {
        await using MailDesk desk = await MailDesk.ForPickupAsync();
        int id = await desk.WriteAsync(Biologist);

        (await ResendAsync(desk, id)).Should().BeOfType<ResendMail.Outcome.StillWaiting>();
        (await ResendAsync(desk, id, role: FleetRoles.Supervisor)).Should().BeOfType<ResendMail.Outcome.NotAllowed>();
        (await ResendAsync(desk, id + 1)).Should().BeOfType<ResendMail.Outcome.Unknown>();
    }

    private static Task<ResendMail.Outcome> ResendAsync(MailDesk desk, int id, bool evenIfSent = false, string role = FleetRoles.Biologist) =>
        new ResendMail(desk.Databases, desk.Clock).HandleAsync(
            new ResendMail.Command(id, new Viewer("u1", "biologist", new HashSet<string> { role }, null), evenIfSent), CancellationToken.None);
}
