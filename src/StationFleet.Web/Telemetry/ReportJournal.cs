using System.Collections.Concurrent;
using System.Text;
using System.Text.RegularExpressions;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>
/// The newest reports of each station as they came, refused ones included, for the person who programs its controller. It is kept in
/// memory: writing it costs the intake nothing, strangers cannot fill the disk through it, and a restart empties it. A key's text is
/// never in it.
/// </summary>
internal sealed partial class ReportJournal(FleetClock clock)
{
    /// <summary>So many reports of a station are kept.</summary>
    public const int MostKept = 50;

    /// <summary>Of a report's body so many bytes are kept.</summary>
    public const int LargestBody = 16 * 1024;

    private const int MostReasons = 400;
    private const int LongestHeader = 80;

    private readonly ConcurrentDictionary<StationId, Shelf> _shelves = new();
    private long _numbers;

    /// <summary>One report, or several refused alike one after the other.</summary>
    /// <param name="Number">Its number; later ones have larger ones.</param>
    /// <param name="Received">When it came; the first one of several.</param>
    /// <param name="LastReceived">When it came last.</param>
    /// <param name="Times">How often it came.</param>
    /// <param name="Request">How it was sent.</param>
    /// <param name="Answer">What was answered.</param>
    internal sealed record Entry(long Number, DateTimeOffset Received, DateTimeOffset LastReceived, int Times, Request Request, Answer Answer);

    /// <summary>How a report was sent.</summary>
    /// <param name="Prefix">The head of its key.</param>
    /// <param name="MediaType">Its Content-Type.</param>
    /// <param name="Coding">Its Content-Encoding; empty when it had none.</param>
    /// <param name="SentBytes">Its size on the way; null when it was sent in chunks.</param>
    /// <param name="Bytes">Its size unpacked; null when it was not read.</param>
    /// <param name="Body">The head of its body, unpacked.</param>
    /// <param name="Station">What it was read by.</param>
    internal sealed record Request(
        string Prefix, string MediaType, string Coding, long? SentBytes, int? Bytes, byte[] Body, StationContext Station);

    /// <summary>What was answered.</summary>
    internal sealed record Answer(
        int Status, string Title, string Detail, long? ReportId, int Accepted, int Repeated, int SetAside, IReadOnlyList<int> RepeatedIndices,
        IReadOnlyDictionary<int, string> Reasons);

    /// <summary>Requests with a station's key that is revoked or wrong, since the last good one.</summary>
    internal sealed record RefusedKey(string Prefix, DateTimeOffset? Revoked, DateTimeOffset LastReceived, int Times);

    /// <summary>A station's reports, newest first.</summary>
    internal sealed record Page(IReadOnlyList<Entry> Entries, RefusedKey? RefusedKey, long Version);

    /// <summary>From when the journal tells.</summary>
    public DateTimeOffset Since { get; } = clock.GetUtcNow();

    public void Note(StationKeys.Holder sender, DateTimeOffset received, Request request, Answer answer) =>
        ShelfOf(sender.Station).Add(new Entry(Interlocked.Increment(ref _numbers), received, received, 1, request, answer));

    public void NoteRefusedKey(StationKeys.Lookup.Refused key, DateTimeOffset received) => ShelfOf(key.Station).Refuse(key, received);

    public Page Read(StationId station) => _shelves.TryGetValue(station, out Shelf? shelf) ? shelf.Read() : new Page([], null, 0);

    /// <summary>Grows with each report of a station.</summary>
    public long VersionOf(StationId station) => _shelves.TryGetValue(station, out Shelf? shelf) ? shelf.Read().Version : 0;

    public static Request RequestOf(HttpRequest request, StationKeys.Holder sender, ReadOnlyMemory<byte>? body)
    {
        ReadOnlyMemory<byte> head = body is { } bytes ? bytes[..Math.Min(bytes.Length, LargestBody)] : default;
        return new Request(
            sender.Prefix, Short(request.ContentType), Short(request.Headers.ContentEncoding), request.ContentLength, body?.Length, WithoutKeys(head.Span), sender.Context);
    }

    public static Answer AnswerOf(int status, string title, string detail, ReportReceipt? receipt) => receipt is null
        ? new Answer(status, title, detail, null, 0, 0, 0, [], new Dictionary<int, string>())
        : new Answer(
            status,
            title,
            detail,
            receipt.ReportId,
            receipt.Accepted,
            receipt.Repeated,
            receipt.SetAside.Count,
            [.. receipt.RepeatedIndices.Take(MostReasons)],
            receipt.SetAside.Take(MostReasons).ToDictionary(record => record.Index, record => record.Reason));

    private Shelf ShelfOf(StationId station) => _shelves.GetOrAdd(station, _ => new Shelf());

    private static string Short(string? header) =>
        header is null ? "" : header.Length <= LongestHeader ? header : string.Concat(header.AsSpan(0, LongestHeader - 1), "…");

    private static byte[] WithoutKeys(ReadOnlySpan<byte> body) => body.IndexOf("sfk_"u8) < 0
        ? body.ToArray()
        : Encoding.UTF8.GetBytes(KeyPattern().Replace(Encoding.UTF8.GetString(body), "sfk_…"));

    [GeneratedRegex("sfk_[a-z2-7_]{4,}")]
    private static partial Regex KeyPattern();

    private sealed class Shelf
    {
        private readonly Lock _lock = new();
        private readonly LinkedList<Entry> _entries = new();
        private RefusedKey? _refused;
        private long _version;

        public void Add(Entry entry)
        {
            lock (_lock)
            {
                _version++;

                // A controller that sends without end must not push out what a programmer looks for.
                if (_entries.First is { Value: var newest } && newest.Answer.Status == entry.Answer.Status && entry.Request.Bytes is null)
                {
                    _entries.RemoveFirst();
                    entry = entry with { Received = newest.Received, Times = newest.Times + 1 };
                }

                _entries.AddFirst(entry);
                _refused = entry.Answer.Status == StatusCodes.Status200OK ? null : _refused;
                if (_entries.Count > MostKept)
                {
                    _entries.RemoveLast();
                }
            }
        }

        public void Refuse(StationKeys.Lookup.Refused key, DateTimeOffset received)
        {
            lock (_lock)
            {
                _version++;
                _refused = new RefusedKey(key.Prefix, key.Revoked, received, _refused?.Prefix == key.Prefix ? _refused.Times + 1 : 1);
            }
        }

        public Page Read()
        {
            lock (_lock)
            {
                return new Page([.. _entries], _refused, _version);
            }
        }
    }
}
