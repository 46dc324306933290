using System.Diagnostics;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>Takes a station's report: decoded, read, on disk. Sending it twice stores it once.</summary>
internal sealed partial class AcceptReport(MeasurementWriter writer, StationKeys keys, FleetClock clock, ILogger<AcceptReport> logger)
{
    internal abstract record Outcome
    {
        private Outcome()
        {
        }

        /// <summary>It is on disk and at least one record counts, or it held none; after a dry run, it could be.</summary>
        internal sealed record Stored(ReportReceipt Receipt, ReadReport Read) : Outcome;

        /// <summary>It is on disk, but every record was set aside.</summary>
        internal sealed record NothingCounted(ReportReceipt Receipt, ReadReport Read) : Outcome;

        internal sealed record Broken(SenmlResult.Fault Fault) : Outcome;

        /// <summary>The pack speaks for another station than the key's.</summary>
        internal sealed record Foreign(string BaseName) : Outcome;

        internal sealed record Busy(TimeSpan RetryAfter) : Outcome;

        internal sealed record DiskFull : Outcome;
    }

    public async Task<Outcome> HandleAsync(StationKeys.Holder sender, ReadOnlyMemory<byte> body, ReportSource source, CancellationToken cancel)
    {
        Outcome outcome = await AcceptAsync(sender.Station, sender.Context, body, source, writer.WriteAsync, cancel);
        switch (outcome)
        {
            case Outcome.Broken broken:
                LogBroken(sender.Context.Code, broken.Fault.Record);
                break;
            case Outcome.Foreign:
                LogForeign(sender.Context.Code, sender.Prefix);
                break;
            case Outcome.Busy or Outcome.DiskFull:
                LogNotWritten(sender.Context.Code, outcome.GetType().Name);
                break;
            default:
                await keys.NoteUseAsync(sender, cancel);
                break;
        }

        return outcome;
    }

    /// <summary>Tells what would become of a report; nothing of it is stored.</summary>
    public Task<Outcome> TryAsync(StationId station, StationContext context, ReadOnlyMemory<byte> body, CancellationToken cancel) =>
        AcceptAsync(station, context, body, ReportSource.Station, writer.TryAsync, cancel);

    private async Task<Outcome> AcceptAsync(
        StationId station,
        StationContext context,
        ReadOnlyMemory<byte> body,
        ReportSource source,
        Func<ReportToStore, CancellationToken, Task<WriteOutcome>> write,
        CancellationToken cancel)
    {
        SenmlResult decoded = SenmlDecoder.Decode(body.Span);
        if (decoded is not SenmlResult.Pack pack)
        {
            return new Outcome.Broken((SenmlResult.Fault)decoded);
        }

        DateTimeOffset received = clock.GetUtcNow();
        ReportReading reading = ReportReader.Read(pack, context, received);
        if (reading is not ReportReading.Report report)
        {
            return new Outcome.Foreign(((ReportReading.ForeignName)reading).BaseName);
        }

        WriteOutcome written = await write(
            new ReportToStore(station, received, report.Measurements, report.SetAside) { ClockOff = report.ClockOff, UpdateWithin = report.UpdateWithin, Source = source }, cancel);
        return written switch
        {
            WriteOutcome.Stored { Receipt: { Accepted: 0, Repeated: 0, SetAside.Count: > 0 } receipt } =>
                new Outcome.NothingCounted(receipt, new ReadReport(pack, report, context, received)),
            WriteOutcome.Stored { Receipt: var receipt } => new Outcome.Stored(receipt, new ReadReport(pack, report, context, received)),
            WriteOutcome.Busy busy => new Outcome.Busy(busy.RetryAfter),
            WriteOutcome.DiskFull => new Outcome.DiskFull(),
            _ => throw new UnreachableException(),
        };
    }

    [LoggerMessage(2111, LogLevel.Warning, "A report of {Station} is no lawful pack; record at fault: {Record}.")]
    private partial void LogBroken(string station, int? record);

    [LoggerMessage(2112, LogLevel.Warning, "The key {Prefix} of {Station} was used for a report with another base name.")]
    private partial void LogForeign(string station, string prefix);

    [LoggerMessage(2113, LogLevel.Error, "A report of {Station} could not be written: {Why}. The station is asked to send it again.")]
    private partial void LogNotWritten(string station, string why);
}
