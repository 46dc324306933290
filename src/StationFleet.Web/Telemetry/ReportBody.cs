using System.IO.Compression;
using Microsoft.Extensions.Primitives;
using Microsoft.Net.Http.Headers;

namespace StationFleet.Web.Telemetry;

/// <summary>A report's body, unpacked, or why it cannot be read.</summary>
internal abstract record ReportBody
{
    /// <summary>The largest body, counted unpacked: 1 MiB.</summary>
    public const int Largest = 1 << 20;

    /// <summary>The media types that are taken, as an Accept header says them.</summary>
    public const string Types = "application/senml+json, application/json";

    /// <summary>The content codings that are taken.</summary>
    public const string Codings = "gzip";

    private ReportBody()
    {
    }

    internal sealed record Whole(ReadOnlyMemory<byte> Bytes) : ReportBody;

    internal sealed record TooLarge : ReportBody;

    internal sealed record WrongType : ReportBody;

    internal sealed record WrongCoding : ReportBody;

    /// <summary>It calls itself gzip and is not.</summary>
    internal sealed record Damaged : ReportBody;

    public static async Task<ReportBody> ReadAsync(HttpRequest request, CancellationToken cancel)
    {
        if (!IsTaken(request.ContentType))
        {
            return new WrongType();
        }

        if (CodingOf(request.Headers.ContentEncoding) is not { } coding)
        {
            return new WrongCoding();
        }

        if (request.ContentLength > Largest)
        {
            return new TooLarge();
        }

        if (coding == Coding.None)
        {
            return await ReadAsync(request.Body, cancel);
        }

        try
        {
            await using GZipStream unpacked = new(request.Body, CompressionMode.Decompress, leaveOpen: true);
            return await ReadAsync(unpacked, cancel);
        }
        catch (InvalidDataException)
        {
            return new Damaged();
        }
    }

    private enum Coding
    {
        None,
        Gzip,
    }

    private static bool IsTaken(string? contentType) =>
        MediaTypeHeaderValue.TryParse(contentType, out MediaTypeHeaderValue? type)
        && (type.MediaType.Equals("application/senml+json", StringComparison.OrdinalIgnoreCase)
            || type.MediaType.Equals("application/json", StringComparison.OrdinalIgnoreCase))
        && (type.Charset.Length == 0 || HeaderUtilities.RemoveQuotes(type.Charset).Equals("utf-8", StringComparison.OrdinalIgnoreCase));

    private static Coding? CodingOf(StringValues header) => header.ToString().Trim().ToUpperInvariant() switch
    {
        "" or "IDENTITY" => Coding.None,
        "GZIP" or "X-GZIP" => Coding.Gzip,
        _ => null,
    };

    // Stops one byte beyond the limit, so that a small packed body cannot fill the memory.
    private static async Task<ReportBody> ReadAsync(Stream body, CancellationToken cancel)
    {
        byte[] buffer = new byte[16 * 1024];
        int length = 0;
        while (true)
        {
            int read = await body.ReadAsync(buffer.AsMemory(length), cancel);
            length += read;
            if (read == 0)
            {
                return new Whole(buffer.AsMemory(0, length));
            }

            if (length > Largest)
            {
                return new TooLarge();
            }

            if (length == buffer.Length)
            {
                Array.Resize(ref buffer, Math.Min(buffer.Length * 4, Largest + 1));
            }
        }
    }
}
