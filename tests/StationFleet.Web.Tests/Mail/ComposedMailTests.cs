using MimeKit;
using StationFleet.Storage.Mail;

namespace StationFleet.Web.Tests.Mail;

public sealed class ComposedMailTests
{
    private const string Biologist = "biologist@juniper-basin.example";

    [Fact]
    [Source("RFC 5322 §3.6.4: In-Reply-To and References name the parent")]
    public async Task A_later_mail_of_a_thread_refers_to_the_first()
    {
        await using TestSmtpServer server = new();
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port);
        await desk.WriteAsync(Biologist);
        await desk.WriteAsync(Biologist, thread: "mail-1.test@juniper-basin.example");

        await desk.SendAsync();

        MimeMessage first = server.Arrived[0].Message;
        MimeMessage second = server.Arrived[1].Message;
        first.InReplyTo.Should().BeNull();
        first.References.Should().BeEmpty();
        second.InReplyTo.Should().Be(first.MessageId);
        second.References.Should().Equal(first.MessageId);
        second.MessageId.Should().NotBe(first.MessageId);
    }

    [Fact]
    [Source("RFC 3834 §5; RFC 2046 §5.1.4")]
    public async Task A_mail_says_that_a_machine_wrote_it_and_has_its_text_before_its_html()
    {
        await using TestSmtpServer server = new();
        await using MailDesk desk = await MailDesk.ForServerAsync(server.Port, options => options.EnvelopeFrom = "bounces@juniper-basin.example");
        await desk.WriteAsync(Biologist, subject: "OTT-1: Pumpe prüfen «T-7»");

        await desk.SendAsync();

        ArrivedMail arrived = server.Arrived.Single();
        arrived.EnvelopeFrom.Should().Be("bounces@juniper-basin.example");
        MimeMessage message = arrived.Message;
        message.Headers[HeaderId.AutoSubmitted].Should().Be("auto-generated");
        message.From.ToString().Should().Be("\"Fleet watch\" <fleet@juniper-basin.example>");
        message.Subject.Should().Be("OTT-1: Pumpe prüfen «T-7»");
        message.Date.Should().Be(MailDesk.Begin);
        message.Date.Offset.Should().Be(TimeSpan.FromHours(-6), "the fleet's zone is America/Boise, in summer");
        Multipart parts = message.Body.Should().BeOfType<MultipartAlternative>().Subject;
        parts.Select(part => part.ContentType.MimeType).Should().Equal("text/plain", "text/html");
        message.TextBody.Should().Contain("46 of 55 gal");
        message.HtmlBody.Should().Contain("<b>46 of 55 gal</b>");
        arrived.Raw.Split("\r\n").Should().OnlyContain(line => line.Length <= 998, "RFC 5322 §2.1.1");
    }

    [Fact]
    public async Task Without_a_server_a_mail_becomes_a_file_that_a_mail_program_can_read()
    {
        await using MailDesk desk = await MailDesk.ForPickupAsync();
        int id = await desk.WriteAsync(Biologist, thread: "root.test@juniper-basin.example");

        await desk.SendAsync();

        string file = Directory.GetFiles(desk.Paths.MailPickup).Should().ContainSingle().Subject;
        file.Should().EndWith("20260708-130500-mail-1.test@juniper-basin.example.eml");
        MimeMessage message = await MimeMessage.LoadAsync(file);
        message.To.ToString().Should().Be(Biologist);
        message.InReplyTo.Should().Be("root.test@juniper-basin.example");
        message.TextBody.Should().Contain("46 of 55 gal");
        (await File.ReadAllTextAsync(file)).Should().NotContain("\n\n").And.Contain("\r\n\r\n", "mail lines end in CR LF");
        OutgoingMail mail = await desk.FindAsync(id);
        mail.State.Should().Be(MailState.Sent);
        mail.LastReply.Should().StartWith("Written to 20260708-");
    }
}
