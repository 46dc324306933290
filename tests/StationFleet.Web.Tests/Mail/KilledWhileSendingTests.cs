using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using StationFleet.Storage.Mail;
using StationFleet.Storage.Platform;

namespace StationFleet.Web.Tests.Mail;

/// <summary>The real server program, killed when the mail server has just taken a mail and before it can be noted.</summary>
public sealed class KilledWhileSendingTests : IDisposable
{
    private const int Mails = 12;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("fleet-killed-mail-");

    [Fact]
    [Source("RFC 5321 §6.1: a copy that cannot be ruled out")]
    public async Task After_a_kill_between_the_servers_yes_and_our_note_each_mail_arrives_and_at_most_that_one_twice_under_its_id()
    {
        FleetDatabase database = new(Path.Combine(_folder.FullName, "fleet.db"));
        await database.OpenAsync(CancellationToken.None);
        await WriteAsync(database);
        await using TestSmtpServer smtp = new();

        // The server keeps the mail and is long in saying so: the kill comes in between.
        smtp.Answer(To(3), new SmtpAnswer.Late(TimeSpan.FromSeconds(30), Keeps: true));
        (string, string)[] settings =
        [
            ("Scheduler__Enabled", "true"), ("Watch__EveryMinutes", "60"), ("Mail__Host", "127.0.0.1"), ("Mail__Security", "None"),
            ("Mail__Port", FormattableString.Invariant($"{smtp.Port}")), ("Mail__From", "fleet@juniper-basin.example"), ("Mail__EverySeconds", "1"),
        ];
        ServerProcess server = await ServerProcess.StartAsync(_folder.FullName, settings);
        await UntilAsync(() => smtp.Arrived.Any(mail => mail.To == To(3)));
        await server.KillAsync();
        await server.DisposeAsync();

        await using ServerProcess again = await ServerProcess.StartAsync(_folder.FullName, settings);
        await UntilAsync(() => smtp.Arrived.Select(mail => mail.To).Distinct().Count() == Mails && smtp.Arrived.Count == Mails + 1);
        await UntilAsync(() => Sent(database) == Mails);

        smtp.Arrived.GroupBy(mail => mail.To).Where(copies => copies.Count() > 1).Should().ContainSingle()
            .Which.Should().Match<IGrouping<string, ArrivedMail>>(copies =>
                copies.Key == To(3) && copies.Count() == 2 && copies.Select(copy => copy.Message.MessageId).Distinct().Count() == 1);
    }

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        _folder.Delete(recursive: true);
    }

    private static string To(int i) => FormattableString.Invariant($"person-{i}@juniper-basin.example");

    private static async Task WriteAsync(FleetDatabase database)
    {
        await using FleetDbContext db = database.CreateDbContext();
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        db.AddRange(Enumerable.Range(0, Mails).Select(i => new OutgoingMail
        {
            Key = $"test/{i}", MessageId = FormattableString.Invariant($"mail-{i}.test@juniper-basin.example"), To = To(i),
            Subject = "COP-1: Pump out the tank (T-1)", Text = "The tank holds 46 of 55 gal.\n", Html = "<p>The tank holds 46 of 55 gal.</p>",
            Created = now, NextAt = now.AddMilliseconds(i),
        }));
        await db.SaveChangesAsync();
    }

    private static int Sent(FleetDatabase database)
    {
        using FleetDbContext db = database.CreateDbContext();
        return db.OutgoingMails.AsNoTracking().Count(mail => mail.State == MailState.Sent);
    }

    private static async Task UntilAsync(Func<bool> isSo)
    {
        for (int i = 0; i < 600 && !isSo(); i++)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(100), TimeProvider.System);
        }

        isSo().Should().BeTrue("within a minute");
    }
}
