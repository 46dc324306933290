using System.Text;
using MimeKit;
using StationFleet.Domain.Service;
using StationFleet.Storage.Accounts;
using StationFleet.Storage.Mail;
using StationFleet.Web.Service;
using StationFleet.Web.Tests.Accounts;

namespace StationFleet.Web.Tests.Mail.Replies;

/// <summary>Answers in a real mailbox of Debian's IMAP server.</summary>
public sealed class ReplyTests
{
    [NeedsImapFact]
    public async Task Taken_from_the_mails_own_recipient_takes_the_ticket_and_is_answered_in_the_thread()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        scene.Called.ReplyTo.Mailboxes.Single().Address.Should().MatchRegex("^fleet-answers\\+[a-z2-7]{26}@juniper-basin.example$");
        MimeMessage answer = ReplyScene.AnswerTo(scene.Called, "Taken.\nI bring a second hose.");

        (await scene.ReceiveAsync(answer)).Should().Be(ReceivedKind.Took);

        (await scene.TicketAsync()).State.Should().Be(TicketState.Taken);
        (await scene.EventsAsync()).Select(e => (e.Kind, e.Who, e.Note)).Should().Equal(
            (TicketEventKind.Raised, null, null), (TicketEventKind.Taken, "technician", null), (TicketEventKind.Noted, "technician", "I bring a second hose."));
        await scene.SendAsync();
        MimeMessage said = scene.Smtp.Arrived[1].Message;
        said.Subject.Should().Be("Re: COP-1: Pump out the tank (T-1)");
        said.InReplyTo.Should().Be(answer.MessageId);
        said.References.Should().Equal(scene.Called.MessageId, answer.MessageId);
        said.Headers[HeaderId.AutoSubmitted].Should().Be("auto-replied");
        said.TextBody.Should().Contain("T-1: is yours now.").And.Contain("What you wrote is kept as a note.");
        (await scene.Imap.UnseenAsync()).Should().Be(0);
    }

    [NeedsImapFact]
    public async Task Anything_else_becomes_a_note_and_nothing_is_closed_by_mail()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();

        (await scene.ReceiveAsync(ReplyScene.AnswerTo(scene.Called, "closed"))).Should().Be(ReceivedKind.Noted);
        (await scene.ReceiveAsync(ReplyScene.AnswerTo(scene.Called, "Taken care of? The valve was open on Friday.", "neighbour@elsewhere.example")))
            .Should().Be(ReceivedKind.Noted);
        (await scene.ReceiveAsync(ReplyScene.AnswerTo(scene.Called, "taken", "neighbour@elsewhere.example"))).Should().Be(ReceivedKind.Noted);

        (await scene.TicketAsync()).State.Should().Be(TicketState.New, "only its own recipient takes a ticket by mail");
        (await scene.EventsAsync()).Skip(1).Select(e => (e.Kind, e.Who, e.Note)).Should().Equal(
            (TicketEventKind.Noted, "technician", "closed"),
            (TicketEventKind.Noted, "neighbour@elsewhere.example by mail", "Taken care of? The valve was open on Friday."),
            (TicketEventKind.Noted, "neighbour@elsewhere.example by mail", "taken"));
    }

    [NeedsImapFact]
    public async Task Who_comes_second_by_mail_is_told_what_happened_and_the_words_are_kept()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        FleetUser other = await scene.Watch.AddPersonAsync("field-crew", FleetRoles.Technician);
        await scene.TakeOnPageAsync(Viewers.Technician with { UserId = other.Id, Name = "field-crew" });

        (await scene.ReceiveAsync(ReplyScene.AnswerTo(scene.Called, "taken\nI am nearby."))).Should().Be(ReceivedKind.TooLate);

        (await scene.TicketAsync()).TakenById.Should().Be(other.Id);
        (await scene.EventsAsync())[^1].Note.Should().Be("I am nearby.");
        await scene.SendAsync();
        scene.Smtp.Arrived[^1].Message.TextBody.Should().Contain("Not taken.").And.MatchRegex("T-1: field-crew took it Monday \\d\\d:\\d\\d. It stays so.");
    }

    [NeedsImapFact]
    public async Task Who_comes_second_on_the_page_is_told_who_took_it_by_mail()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        await scene.ReceiveAsync(ReplyScene.AnswerTo(scene.Called, "taken"));

        TicketAnswer second = await scene.TakeOnPageAsync(Viewers.Technician with { UserId = "somebody else" });

        second.Should().BeOfType<TicketAnswer.Changed>().Which.Meanwhile.Should().ContainSingle()
            .Which.Should().Match<Happening>(happening => happening.Kind == TicketEventKind.Taken && happening.Who == "technician");
    }

    [NeedsImapFact]
    public async Task Each_message_is_handled_once_over_restarts_second_copies_and_a_mailbox_made_anew()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        MimeMessage answer = ReplyScene.AnswerTo(scene.Called, "On my way at ten.");
        MimeMessage nameless = ReplyScene.AnswerTo(scene.Called, "And I bring a hose.");
        nameless.Headers.Remove(HeaderId.MessageId);
        await scene.ReceiveAsync(answer);
        await scene.ReceiveAsync(nameless);

        (await scene.ReadAsync()).Should().Be(0);
        (await scene.ReceiveAsync(answer)).Should().Be(ReceivedKind.Again);
        await scene.Imap.RemakeAsync(answer, nameless);
        (await scene.ReadAsync()).Should().Be(2);

        (await scene.EventsAsync()).Count(e => e.Kind == TicketEventKind.Noted).Should().Be(2);
        (await scene.Watch.RowsAsync<ReceivedMail>()).Select(row => row.Kind).Should().Equal(
            ReceivedKind.Noted, ReceivedKind.Noted, ReceivedKind.Again, ReceivedKind.Again, ReceivedKind.Again);
    }

    [NeedsImapFact]
    public async Task A_message_whose_work_failed_is_done_whole_the_next_time()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        scene.Watch.File.Scalar("CREATE TRIGGER broken BEFORE INSERT ON received_mails BEGIN SELECT RAISE(ABORT, 'broken'); END");
        await scene.Imap.DeliverAsync(ReplyScene.AnswerTo(scene.Called, "taken"));

        await FluentActions.Awaiting(scene.ReadAsync).Should().ThrowAsync<Microsoft.EntityFrameworkCore.DbUpdateException>();
        (await scene.TicketAsync()).State.Should().Be(TicketState.New);
        (await scene.Imap.UnseenAsync()).Should().Be(1);

        scene.Watch.File.Scalar("DROP TRIGGER broken");
        (await scene.ReadAsync()).Should().Be(1);
        (await scene.TicketAsync()).State.Should().Be(TicketState.Taken);
    }

    [NeedsImapFact]
    [Source("RFC 3834 §2 and §5; RFC 5321 §4.5.5")]
    public async Task What_a_machine_wrote_is_ignored()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        (HeaderId, string)[] marks = [(HeaderId.AutoSubmitted, "auto-replied"), (HeaderId.Precedence, "bulk"), (HeaderId.ReturnPath, "<>")];
        foreach ((HeaderId header, string value) in marks)
        {
            MimeMessage automatic = ReplyScene.AnswerTo(scene.Called, "taken");
            automatic.Headers.Add(header, value);

            (await scene.ReceiveAsync(automatic)).Should().Be(ReceivedKind.Automatic, header.ToString());
        }

        MimeMessage stranger = ReplyScene.AnswerTo(scene.Called, "taken");
        stranger.To.Clear();
        stranger.To.Add(MailboxAddress.Parse("fleet-answers+aaaaaaaaaaaaaaaaaaaaaaaaaa@juniper-basin.example"));
        (await scene.ReceiveAsync(stranger)).Should().Be(ReceivedKind.Stranger, "a guessed token is none of ours");
        (await scene.EventsAsync()).Should().ContainSingle();
        (await scene.TicketAsync()).State.Should().Be(TicketState.New);
    }

    [NeedsImapFact]
    public async Task Of_a_large_message_only_the_text_is_read_and_a_text_too_large_is_left()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        scene.Watch.Imap.MostKibibytes = 32;
        MimeMessage withPicture = ReplyScene.AnswerTo(scene.Called, "The hose is torn, see the picture.");
        withPicture.Body = new Multipart("mixed")
        {
            withPicture.Body!,
            new MimePart("image", "jpeg") { Content = new MimeContent(new MemoryStream(new byte[200_000])), ContentTransferEncoding = ContentEncoding.Base64 },
        };

        (await scene.ReceiveAsync(withPicture)).Should().Be(ReceivedKind.Noted);
        (await scene.ReceiveAsync(ReplyScene.AnswerTo(scene.Called, new string('x', 60_000)))).Should().Be(ReceivedKind.TooLarge);

        (await scene.EventsAsync())[^1].Note.Should().Be("The hose is torn, see the picture.");
    }

    [NeedsImapFact]
    public async Task An_answer_in_HTML_alone_is_read_without_what_it_quotes()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        MimeMessage answer = ReplyScene.AnswerTo(scene.Called, "");
        answer.Body = new TextPart("html")
        {
            Text = "<html><head><style>p{}</style></head><body><div>taken</div><div>Bringing&nbsp;a hose &amp; clamps.</div><blockquote>The tank holds 46 of 55 gal</blockquote></body></html>",
        };

        (await scene.ReceiveAsync(answer)).Should().Be(ReceivedKind.Took);

        (await scene.EventsAsync())[^1].Note.Should().Be("Bringing a hose & clamps.");
    }

    [NeedsImapFact]
    public async Task A_note_is_cut_at_what_the_history_can_hold()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();

        await scene.ReceiveAsync(ReplyScene.AnswerTo(scene.Called, string.Concat(Enumerable.Repeat("word ", 2000))));

        (await scene.EventsAsync())[^1].Note.Should().HaveLength(3900).And.EndWith("(cut)");
    }

    [NeedsImapFact]
    [Source("RFC 3464 §2 and its example in appendix E: a delivery status notification with one failed recipient")]
    public async Task A_bounce_marks_its_mail_and_the_next_person_is_told_at_once()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        string raw = $"""
            From: Mail Delivery Subsystem <MAILER-DAEMON@mail.juniper-basin.example>
            To: <fleet-answers@juniper-basin.example>
            Subject: Returned mail: Cannot send message for 5 days
            Message-ID: <bounce-1@mail.juniper-basin.example>
            MIME-Version: 1.0
            Content-Type: multipart/report; report-type=delivery-status; boundary="RAA14128.773615765"

            --RAA14128.773615765

            The original message was not delivered.

            --RAA14128.773615765
            content-type: message/delivery-status

            Reporting-MTA: dns; mail.juniper-basin.example

            Original-Recipient: rfc822;technician@juniper-basin.example
            Final-Recipient: rfc822;technician@juniper-basin.example
            Action: failed
            Status: 5.1.1
            Diagnostic-Code: smtp; 550 no such user

            --RAA14128.773615765
            content-type: message/rfc822

            Message-ID: <{scene.Called.MessageId}>
            From: fleet@juniper-basin.example
            To: technician@juniper-basin.example
            Subject: the ticket

            text
            --RAA14128.773615765--

            """;
        MimeMessage bounce = await MimeMessage.LoadAsync(new MemoryStream(Encoding.ASCII.GetBytes(raw.ReplaceLineEndings("\r\n"))));

        (await scene.ReceiveAsync(bounce)).Should().Be(ReceivedKind.Bounce);

        OutgoingMail mail = (await scene.Watch.RowsAsync<OutgoingMail>()).Single();
        mail.Bounced.Should().Be(scene.Watch.Now);
        mail.LastReply.Should().Be("Came back: technician@juniper-basin.example 5.1.1 550 no such user");
        await scene.Watch.Caller().HandleAsync(CancellationToken.None);
        (await scene.Watch.RowsAsync<OutgoingMail>())[^1].To.Should().Be("biologist@juniper-basin.example");
    }

    [NeedsImapFact]
    public async Task A_mailbox_that_is_away_or_locked_is_told_of_and_read_later()
    {
        await using ReplyScene scene = await ReplyScene.StartAsync();
        await scene.Imap.DeliverAsync(ReplyScene.AnswerTo(scene.Called, "taken"));
        scene.Watch.Imap.Password = "wrong";
        (await scene.ReadAsync()).Should().Be(0);
        scene.News.Last!.Trouble.Should().Be("The mailbox did not accept Imap:User and Imap:Password.");

        scene.Watch.Imap.Password = TestImapServer.Password;
        scene.Watch.Imap.Port = TestSmtpServer.FreePort();
        (await scene.ReadAsync()).Should().Be(0);
        scene.News.Last.Trouble.Should().StartWith("The mailbox at 127.0.0.1:").And.EndWith("could not be read.");

        scene.Watch.Imap.Port = scene.Imap.Port;
        (await scene.ReadAsync()).Should().Be(1);
        scene.News.Last.Trouble.Should().BeNull();
        (await scene.TicketAsync()).State.Should().Be(TicketState.Taken);
    }
}
