using System.Globalization;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;
using Xunit.Abstractions;

namespace StationFleet.Web.Tests.Mail;

/// <summary>
/// Many tickets' mails through a real SMTP server with twenty scripted ways to fail, after it was down at first. FLEET_MAILS sets how
/// many (a thousand).
/// </summary>
public sealed class SmtpFaultTests(ITestOutputHelper output)
{
    private static readonly TimeSpan PastOurPatience = TimeSpan.FromSeconds(3.8);

    // What the server does with the first tries for a recipient; afterwards it takes the mail.
    private static readonly (string Name, bool IsFinal, int MostCopies, SmtpAnswer[] Answers)[] Faults =
    [
        ("takes it", false, 1, [new SmtpAnswer.Take()]),
        ("450 at the recipient", false, 1, [new SmtpAnswer.AtRecipient(450, "mailbox busy")]),
        ("greylisting", false, 1, [new SmtpAnswer.AtRecipient(451, "greylisted"), new SmtpAnswer.AtRecipient(451, "greylisted")]),
        ("452 at the recipient", false, 1, [new SmtpAnswer.AtRecipient(452, "too many recipients")]),
        ("421 at the recipient, connection ended", false, 1, [new SmtpAnswer.QuitAtRecipient("shutting down")]),
        ("connection cut at the recipient", false, 1, [new SmtpAnswer.DropAtRecipient()]),
        ("550 at the recipient", true, 0, [new SmtpAnswer.AtRecipient(550, "no such person")]),
        ("553 at the recipient", true, 0, [new SmtpAnswer.AtRecipient(553, "no such name")]),
        ("421 at the final dot", false, 1, [new SmtpAnswer.AtFinalDot(421, "shutting down")]),
        ("450 at the final dot", false, 1, [new SmtpAnswer.AtFinalDot(450, "try later")]),
        ("451 at the final dot", false, 1, [new SmtpAnswer.AtFinalDot(451, "local error")]),
        ("452 at the final dot", false, 1, [new SmtpAnswer.AtFinalDot(452, "disk full")]),
        ("550 at the final dot", true, 0, [new SmtpAnswer.AtFinalDot(550, "not wanted")]),
        ("552 at the final dot", true, 0, [new SmtpAnswer.AtFinalDot(552, "mailbox full")]),
        ("connection cut before the final dot", false, 1, [new SmtpAnswer.DropBeforeFinalDot()]),
        ("connection cut after the final dot", false, 2, [new SmtpAnswer.DropAfterFinalDot()]),
        ("slow", false, 1, [new SmtpAnswer.Late(TimeSpan.FromMilliseconds(150), Keeps: false)]),
        ("answers after our patience and kept it", false, 2, [new SmtpAnswer.Late(PastOurPatience, Keeps: true)]),
        ("no twice, then cut", false, 1, [new SmtpAnswer.AtRecipient(450, "no"), new SmtpAnswer.AtFinalDot(421, "no"), new SmtpAnswer.DropBeforeFinalDot()]),
        ("greylisted, then cut after the final dot", false, 2, [new SmtpAnswer.AtRecipient(451, "greylisted"), new SmtpAnswer.DropAfterFinalDot()]),
    ];

    [Fact]
    [Source("RFC 5321 §4.2.1 (4yz and 5yz), §4.5.4.1 (retries), §6.1 (the copy that cannot be ruled out)")]
    public async Task Through_twenty_faults_nothing_is_lost_and_nothing_doubled_but_what_SMTP_cannot_tell()
    {
        int mails = int.Parse(Environment.GetEnvironmentVariable("FLEET_MAILS") ?? "1000", CultureInfo.InvariantCulture);
        int port = TestSmtpServer.FreePort();
        await using MailDesk desk = await MailDesk.ForServerAsync(port, options =>
        {
            options.TimeoutSeconds = 3; // a machine that stalls for less than that is not an answer that never came
            options.SlowAfterSeconds = 0.05;
            options.MostConnections = 10;
        });
        await desk.WriteAsync([.. Enumerable.Range(0, mails).Select(To)]);
        await desk.SendAsync();
        (await StatesAsync(desk)).Should().OnlyContain(mail => mail.State == MailState.Waiting, "the server is down");

        await using TestSmtpServer server = new(port);
        for (int i = 0; i < mails; i++)
        {
            server.Answer(To(i), Faults[i % Faults.Length].Answers);
        }

        long started = TimeProvider.System.GetTimestamp();
        for (int run = 0; run < 60 && (await StatesAsync(desk)).Exists(mail => mail.State == MailState.Waiting); run++)
        {
            desk.Advance(TimeSpan.FromMinutes(run < 10 ? 1 : 30));
            if (run % 3 == 2)
            {
                desk.Restart();
            }

            await desk.SendAsync();
        }

        output.WriteLine($"{mails} mails in {TimeProvider.System.GetElapsedTime(started).TotalSeconds:0.0} s over {server.Connections} connections, {server.Arrived.Count} arrived");
        ILookup<string, ArrivedMail> arrived = server.Arrived.ToLookup(mail => mail.To);
        List<OutgoingMail> states = await StatesAsync(desk);
        List<string> wrong = [];
        for (int i = 0; i < mails; i++)
        {
            (string name, bool isFinal, int most, _) = Faults[i % Faults.Length];
            OutgoingMail mail = states.Single(state => state.To == To(i));
            int copies = arrived[To(i)].Count();
            bool isRight = mail.State == (isFinal ? MailState.Dead : MailState.Sent)
                && copies <= most && copies >= (isFinal ? 0 : 1)
                && arrived[To(i)].All(copy => copy.Message.MessageId == mail.MessageId);
            if (!isRight)
            {
                wrong.Add($"{To(i)}: {name}: {mail.State}, {copies} copies, {mail.LastReply}");
            }
        }

        wrong.Should().BeEmpty();
        states.Where(mail => mail.State == MailState.Dead).Should().OnlyContain(mail => mail.LastReply!.StartsWith("55"), "the server's words stay");
    }

    private static string To(int i) => string.Create(CultureInfo.InvariantCulture, $"person-{i}@juniper-basin.example");

    private static async Task<List<OutgoingMail>> StatesAsync(MailDesk desk)
    {
        await using FleetDbContext db = desk.Databases.CreateDbContext();
        return await db.OutgoingMails.AsNoTracking().ToListAsync();
    }
}
