using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Tests.Mail;

public sealed class SendMailTests
{
    private const string Biologist = "biologist@juniper-basin.example";
    private const string Technician = "technician@juniper-basin.example";
    private const string Supervisor = "supervisor@juniper-basin.example";

    [Fact]
    public async Task A_mail_that_the_server_takes_is_sent_once()
    {
        await using TestSmtpServer server = new();
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(Biologist);

        int sent = await desk.SendAsync();
        await desk.SendAsync();

        sent.Should().Be(1);
        server.Arrived.Should().ContainSingle().Which.To.Should().Be(Biologist);
        OutgoingMail mail = await desk.FindAsync(id);
        mail.State.Should().Be(MailState.Sent);
        mail.Sent.Should().Be(MailDesk.Begin);
        mail.Attempts.Should().Be(1);
    }

    [Fact]
    public async Task Several_mails_go_over_one_connection()
    {
        await using TestSmtpServer server = new();
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        for (int n = 0; n < 5; n++)
        {
            await desk.WriteAsync($"person{n}@juniper-basin.example");
        }

        await desk.SendAsync();

        server.Arrived.Should().HaveCount(5);
        server.Connections.Should().Be(1);
    }

    [Theory]
    [InlineData(450)]
    [InlineData(451)]
    [Source("RFC 5321 §4.2.1: 4yz is transient")]
    public async Task A_mail_refused_for_now_waits_and_goes_later_under_the_same_id(int code)
    {
        await using TestSmtpServer server = new();
        server.Answer(Biologist, new SmtpAnswer.AtRecipient(code, "greylisted, come back"), new SmtpAnswer.AtFinalDot(code, "disk is full"));
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(Biologist);

        await desk.SendAsync();

        OutgoingMail first = await desk.FindAsync(id);
        first.State.Should().Be(MailState.Waiting);
        first.LastReply.Should().StartWith($"{code} greylisted, come back");
        first.NextAt.Should().Be(MailDesk.Begin.AddMinutes(1));

        desk.Advance(TimeSpan.FromMinutes(1));
        await desk.SendAsync();

        OutgoingMail second = await desk.FindAsync(id);
        second.State.Should().Be(MailState.Waiting);
        second.LastReply.Should().Be($"{code} disk is full");
        second.NextAt.Should().Be(MailDesk.Begin.AddMinutes(3));

        desk.Advance(TimeSpan.FromMinutes(2));
        await desk.SendAsync();

        (await desk.FindAsync(id)).State.Should().Be(MailState.Sent);
        server.Arrived.Should().ContainSingle().Which.Message.MessageId.Should().Be(first.MessageId);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    [Source("RFC 5321 §4.2.1: 5yz is permanent")]
    public async Task A_mail_refused_for_good_is_dead_with_the_servers_words(bool atRecipient)
    {
        await using TestSmtpServer server = new();
        server.Answer(
            Biologist,
            atRecipient ? new SmtpAnswer.AtRecipient(550, "no such person here") : new SmtpAnswer.AtFinalDot(550, "no such person here"));
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(Biologist);

        await desk.SendAsync();
        desk.Advance(TimeSpan.FromDays(1));
        await desk.SendAsync();

        OutgoingMail mail = await desk.FindAsync(id);
        mail.State.Should().Be(MailState.Dead);
        mail.LastReply.Should().StartWith("550 no such person here");
        server.TriesFor(Biologist).Should().Be(1);
        server.Arrived.Should().BeEmpty();
    }

    [Fact]
    public async Task A_connection_cut_before_the_final_dot_is_a_try_for_later()
    {
        await using TestSmtpServer server = new();
        server.Answer(Biologist, new SmtpAnswer.DropBeforeFinalDot());
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(Biologist);

        await desk.SendAsync();

        OutgoingMail mail = await desk.FindAsync(id);
        mail.State.Should().Be(MailState.Waiting);
        mail.LastReply.Should().Be("The connection broke while the mail was under way.");
        server.Arrived.Should().BeEmpty();

        desk.Advance(TimeSpan.FromMinutes(1));
        await desk.SendAsync();

        server.Arrived.Should().ContainSingle();
    }

    [Fact]
    public async Task A_connection_cut_after_the_final_dot_sends_again_under_the_same_id()
    {
        await using TestSmtpServer server = new();
        server.Answer(Biologist, new SmtpAnswer.DropAfterFinalDot());
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(Biologist);

        await desk.SendAsync();
        desk.Advance(TimeSpan.FromMinutes(1));
        await desk.SendAsync();

        (await desk.FindAsync(id)).State.Should().Be(MailState.Sent);
        server.Arrived.Should().HaveCount(2, "SMTP cannot tell whether the first was taken");
        server.Arrived.Select(mail => mail.Message.MessageId).Distinct().Should().ContainSingle();
    }

    [Fact]
    public async Task Nobody_listening_lets_all_mails_wait_with_growing_delays_until_somebody_does()
    {
        int port = TestSmtpServer.FreePort();
        await using MailDesk desk = await MailDesk.ForServerAsync(port);
        int id = await desk.WriteAsync(Biologist);
        int other = await desk.WriteAsync(Technician);
        double[] delays = [1, 2, 5, 15, 30, 120, 120];

        foreach (double minutes in delays)
        {
            await desk.SendAsync();

            OutgoingMail mail = await desk.FindAsync(id);
            mail.State.Should().Be(MailState.Waiting);
            mail.LastReply.Should().Be($"No mail server answers at 127.0.0.1:{port}.");
            (mail.NextAt - desk.Clock.GetUtcNow()).TotalMinutes.Should().Be(minutes);
            (await desk.FindAsync(other)).NextAt.Should().Be(mail.NextAt);

            desk.Advance(TimeSpan.FromMinutes(minutes));
        }

        await using TestSmtpServer server = new(port);
        await desk.SendAsync();

        server.Arrived.Should().HaveCount(2);
    }

    [Fact]
    [Source("RFC 5321 §4.5.4.1: the give-up time is generally at least 4 to 5 days")]
    public async Task After_five_days_of_trying_a_mail_is_given_up_with_its_last_words()
    {
        await using MailDesk desk = await MailDesk.ForServerAsync(TestSmtpServer.FreePort());
        int id = await desk.WriteAsync(Biologist);
        OutgoingMail mail = await desk.FindAsync(id);

        while (mail.State == MailState.Waiting)
        {
            await desk.SendAsync();
            mail = await desk.FindAsync(id);
            if (mail.State == MailState.Waiting)
            {
                desk.Advance(mail.NextAt - desk.Clock.GetUtcNow());
            }
        }

        mail.State.Should().Be(MailState.Dead);
        mail.LastReply.Should().StartWith("Given up after 66 tries. Last: No mail server answers at");
        TimeSpan tried = desk.Clock.GetUtcNow() - MailDesk.Begin;
        tried.TotalDays.Should().BeInRange(5, 5.1);
    }

    [Fact]
    public async Task One_broken_recipient_does_not_block_the_others()
    {
        await using TestSmtpServer server = new();
        server.Answer(Biologist, new SmtpAnswer.DropBeforeFinalDot());
        server.Answer(Technician, new SmtpAnswer.AtRecipient(550, "unknown"));
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        await desk.WriteAsync(Biologist);
        await desk.WriteAsync(Technician);
        await desk.WriteAsync(Supervisor);

        await desk.SendAsync();

        server.Arrived.Should().ContainSingle().Which.To.Should().Be(Supervisor);
    }

    [Fact]
    public async Task One_slow_recipient_does_not_block_the_others()
    {
        await using TestSmtpServer server = new();
        server.Answer(Biologist, new SmtpAnswer.Slow());
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port, options => options.SlowAfterSeconds = 0.2);
        await desk.WriteAsync(Biologist);
        await desk.WriteAsync(Technician);
        await desk.WriteAsync(Supervisor);

        Task<int> sending = desk.SendAsync();
        for (int n = 0; n < 300 && server.Arrived.Count < 2; n++)
        {
            await Task.Delay(50);
        }

        server.Arrived.Select(mail => mail.To).Should().BeEquivalentTo(Technician, Supervisor);
        server.LetSlowOnesGo();
        (await sending).Should().Be(3);
        server.Connections.Should().Be(2);
    }

    [Fact]
    public async Task A_server_that_never_answers_costs_one_try()
    {
        await using TestSmtpServer server = new();
        server.Answer(Biologist, new SmtpAnswer.Slow());
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port, options => options.TimeoutSeconds = 1);
        int id = await desk.WriteAsync(Biologist);

        await desk.SendAsync();

        OutgoingMail mail = await desk.FindAsync(id);
        mail.State.Should().Be(MailState.Waiting);
        mail.LastReply.Should().Be("The server did not answer within 1 s.");
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_mail_found_under_way_goes_again_under_the_same_id_at_once_after_a_start_else_when_its_lease_ends(bool isStart)
    {
        await using TestSmtpServer server = new();
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        await desk.SendAsync();
        int id = await desk.WriteAsync(Biologist);
        await using (FleetDbContext db = desk.Databases.CreateDbContext())
        {
            OutgoingMail left = (await db.OutgoingMails.FindAsync(id))!;
            left.State = MailState.Sending;
            left.Attempts = 1;
            left.NextAt = MailDesk.Begin.AddMinutes(12);
            await db.SaveChangesAsync();
        }

        if (isStart)
        {
            desk.Restart();
        }
        else
        {
            desk.Advance(TimeSpan.FromMinutes(11));
            await desk.SendAsync();
            server.Arrived.Should().BeEmpty("the lease of the try before still runs");
            desk.Advance(TimeSpan.FromMinutes(1));
        }

        await desk.SendAsync();

        server.Arrived.Should().ContainSingle().Which.Message.MessageId.Should().Be("mail-1.test@juniper-basin.example");
        OutgoingMail mail = await desk.FindAsync(id);
        (mail.State, mail.Attempts).Should().Be((MailState.Sent, 2));
    }

    [Theory]
    [InlineData("COP-1: tank\r\nBcc: everybody@example.org", Biologist)]
    [InlineData("COP-1: tank", "biologist@juniper-basin.example\r\nBcc: everybody@example.org")]
    [InlineData("COP-1: tank", "one@juniper-basin.example, two@juniper-basin.example")]
    [InlineData("COP-1: tank", "nobody")]
    public async Task A_mail_that_could_start_a_header_of_its_own_is_refused(string subject, string to)
    {
        await using TestSmtpServer server = new();
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        int id = await desk.WriteAsync(to, subject: subject);

        await desk.SendAsync();

        OutgoingMail mail = await desk.FindAsync(id);
        mail.State.Should().Be(MailState.Dead);
        mail.LastReply.Should().StartWith("Not sent:");
        server.Connections.Should().Be(0);
    }
}
