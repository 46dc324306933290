using System.Diagnostics;
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

        /// <summary>It is on disk and at least one record counts, or it held none.</summary>
        internal sealed record Stored(ReportReceipt Receipt) : Outcome;

        /// <summary>It is on disk, but every record was set aside.</summary>
        internal sealed record NothingCounted(ReportReceipt Receipt) : Outcome;

        internal sealed record Broken(SenmlResult.Fault Fault) : Outcome;

        /// <summary>The pack speaks for another station than the key's.</summary>
        internal sealed record Foreign(string BaseName) : Outcome;

        internal sealed record Busy(TimeSpan RetryAfter) : Outcome;

        internal sealed record DiskFull : Outcome;
    }

    public async Task<Outcome> HandleAsync(StationKeys.Holder sender, ReadOnlyMemory<byte> body, ReportSource source, CancellationToken cancel)
    {
        SenmlResult decoded = SenmlDecoder.Decode(body.Span);
        if (decoded is SenmlResult.Fault fault)
        {
            LogBroken(sender.Context.Code, fault.Record);
            return new Outcome.Broken(fault);
        }

        DateTimeOffset received = clock.GetUtcNow();
        ReportReading reading = ReportReader.Read((SenmlResult.Pack)decoded, sender.Context, received);
        if (reading is not ReportReading.Report report)
        {
            LogForeign(sender.Context.Code, sender.Prefix);
            return new Outcome.Foreign(((ReportReading.ForeignName)reading).BaseName);
        }

        WriteOutcome written = await writer.WriteAsync(
            new ReportToStore(sender.Station, received, report.Measurements, report.SetAside) { Source = source }, cancel);
        if (written is not WriteOutcome.Stored stored)
        {
            LogNotWritten(sender.Context.Code, written.GetType().Name);
            return written switch
            {
                WriteOutcome.Busy busy => new Outcome.Busy(busy.RetryAfter),
                WriteOutcome.DiskFull => new Outcome.DiskFull(),
                _ => throw new UnreachableException(),
            };
        }

        await keys.NoteUseAsync(sender, cancel);
        ReportReceipt receipt = stored.Receipt;
        return receipt is { Accepted: 0, Repeated: 0, SetAside.Count: > 0 } ? new Outcome.NothingCounted(receipt) : new Outcome.Stored(receipt);
    }

    [LoggerMessage(2111, LogLevel.Warning, "A report of {Station} is no lawful pack; record at fault: {Record}.")]
    private partial void LogBroken(string station, int? record);

    [LoggerMessage(2112, LogLevel.Warning, "The key {Prefix} of {Station} was used for a report with another base name.")]
    private partial void LogForeign(string station, string prefix);

    [LoggerMessage(2113, LogLevel.Error, "A report of {Station} could not be written: {Why}. The station is asked to send it again.")]
    private partial void LogNotWritten(string station, string why);
}
