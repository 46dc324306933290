using MimeKit;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Mail;

/// <summary>
/// Mails as files: what an installation without a mail server, and the demo, use. A file is complete when its name ends in
/// <c>.eml</c>; its name comes from the mail, so that a repeated try writes the same file.
/// </summary>
internal sealed class PickupFolder(FleetPaths paths) : IMailTransport
{
    public IMailRun Begin() => new Run(Directory.CreateDirectory(paths.MailPickup));

    private sealed class Run(DirectoryInfo folder) : IMailRun
    {
        public async Task<Delivery> SendAsync(MimeMessage message, MailboxAddress from, MailboxAddress to, CancellationToken cancel)
        {
            string name = $"{message.Date.UtcDateTime:yyyyMMdd-HHmmss}-{Tame(message.MessageId ?? "mail")}.eml";
            string draft = Path.Combine(folder.FullName, $".{name}");
            try
            {
                FormatOptions format = FormatOptions.Default.Clone();
                format.NewLineFormat = NewLineFormat.Dos;
                await message.WriteToAsync(format, draft, cancel);
                File.Move(draft, Path.Combine(folder.FullName, name), overwrite: true);
                return new Delivery.Taken($"Written to {name}.");
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                return new Delivery.TryLater("The file could not be written into the mail folder.");
            }
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;

        private static string Tame(string id)
        {
            string tame = string.Concat(id.Select(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '-' or '@' ? c : '_'));
            return tame.Length <= 120 ? tame : tame[..120];
        }
    }
}
