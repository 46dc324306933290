using System.Globalization;
using StationFleet.Storage.Service;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Service.Photographs;

/// <summary>The photographs of a ticket's form: read and checked first, stored within the form's transaction.</summary>
internal sealed class SentPhotographs
{
    public const string Field = "Photographs";
    public const int Most = 6;

    private List<Picture> Pictures { get; init; } = [];

    public static SentPhotographs None { get; } = new();

    public bool IsEmpty => Pictures.Count == 0;

    /// <summary>Reads them all, or says in a sentence what is wrong with one.</summary>
    public static async Task<(SentPhotographs Photographs, string? Wrong)> ReadAsync(IFormFileCollection files, CancellationToken cancel)
    {
        IFormFile[] sent = [.. files.Where(file => file.Name == Field && file.Length > 0)];
        if (sent.Length > Most)
        {
            return (None, string.Create(CultureInfo.InvariantCulture, $"At most {Most} photographs at once; you chose {sent.Length}."));
        }

        List<Picture> pictures = [];
        foreach (IFormFile file in sent)
        {
            if (file.Length > Picture.MostBytes)
            {
                return (None, $"{file.FileName} is larger than 12 MB.");
            }

            using MemoryStream bytes = new();
            await file.CopyToAsync(bytes, cancel);
            if (Picture.From(bytes.ToArray()) is not { } picture)
            {
                return (None, $"{file.FileName} is no picture that we can read. Send a JPEG, PNG or WebP picture.");
            }

            pictures.Add(picture);
        }

        return (new SentPhotographs { Pictures = pictures }, null);
    }

    /// <summary>Writes the files, then their rows. Should the transaction fail, the same form writes the same files once more.</summary>
    public async Task WriteAsync(TicketDesk.Desk at, TicketForm form, FleetPaths paths, CancellationToken cancel)
    {
        for (int i = 0; i < Pictures.Count; i++)
        {
            string key = string.Create(CultureInfo.InvariantCulture, $"{form.Key}-{i + 1}");
            string folder = Directory.CreateDirectory(paths.Photographs).FullName;
            string file = $"{key}.jpg"; // the desk lets keys of letters, digits and hyphens pass only
            await File.WriteAllBytesAsync(Path.Combine(folder, file), Pictures[i].Jpeg, cancel);
            at.Db.Photographs.Add(new Photograph
            {
                TicketId = at.Ticket.Id, At = at.Now, Who = form.Viewer.Name, File = file, IdempotencyKey = key,
                Width = Pictures[i].Width, Height = Pictures[i].Height,
            });
        }
    }
}
