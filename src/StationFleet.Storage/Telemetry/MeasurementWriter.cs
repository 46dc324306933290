using System.Threading.Channels;
using Microsoft.Data.Sqlite;
using SQLitePCL;
using StationFleet.Domain.Fleet;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Platform;

namespace StationFleet.Storage.Telemetry;

/// <summary>
/// The one writer of measurements. Reports wait in a short queue; it takes what waits, writes it in one transaction and
/// answers after COMMIT. Roll-ups are written in the same transaction or, while more waits, at most a second later. Should one
/// report break the transaction, each is written alone.
/// </summary>
public sealed class MeasurementWriter : IAsyncDisposable
{
    private const int MostWaiting = 256;
    private const int MostRowsInGroup = 20_000;
    private const int MostRowsInPurge = 5_000;

    private static readonly TimeSpan RetryAfter = TimeSpan.FromSeconds(5);

    private readonly WriterSession _session;
    private readonly Channel<WriterWork> _waiting =
        Channel.CreateBounded<WriterWork>(new BoundedChannelOptions(MostWaiting) { SingleReader = true });

    private readonly Thread _loop;

    /// <summary>
    /// Starts the writer, which first catches up on roll-ups; the database must be open (<see cref="FleetDatabase.OpenAsync"/>).
    /// </summary>
    public MeasurementWriter(FleetDatabase database)
    {
        ArgumentNullException.ThrowIfNull(database);
        _session = new WriterSession(database.OpenWriter());
        CatchUp();

        // A thread of its own, since it waits for the disk most of the time.
        _loop = new Thread(WriteAll) { Name = "Measurement writer", IsBackground = true };
        _loop.Start();
    }

    /// <summary>Writes a report. Sending the same report again changes nothing but its station's last-heard.</summary>
    /// <param name="report">The report.</param>
    /// <param name="cancel">Stops waiting for the answer; the report may be written all the same.</param>
    /// <returns>Stored once it is on disk; else nothing of it is.</returns>
    public async Task<WriteOutcome> WriteAsync(ReportToStore report, CancellationToken cancel)
    {
        WriterWork.Report work = new(report);
        return _waiting.Writer.TryWrite(work) ? await work.Done.WaitAsync(cancel) : new WriteOutcome.Busy(RetryAfter);
    }

    /// <summary>Tells what writing a report would do, by doing it and taking it back.</summary>
    /// <returns>Stored with the receipt that writing would give; its report's number means nothing.</returns>
    public async Task<WriteOutcome> TryAsync(ReportToStore report, CancellationToken cancel)
    {
        WriteOutcome outcome = new WriteOutcome.Busy(RetryAfter);
        WriterWork.Chore work = new(session => outcome = new WriteOutcome.Stored(session.Try(report)));
        try
        {
            if (_waiting.Writer.TryWrite(work))
            {
                await work.Done.WaitAsync(cancel);
            }

            return outcome;
        }
        catch (SqliteException failure) when (failure.SqliteErrorCode is raw.SQLITE_BUSY or raw.SQLITE_LOCKED)
        {
            return outcome;
        }
        catch (SqliteException failure) when (failure.SqliteErrorCode == raw.SQLITE_FULL)
        {
            return new WriteOutcome.DiskFull();
        }
    }

    /// <summary>Throws records that were set aside away for good, because a person said so.</summary>
    /// <returns>How many there were.</returns>
    public async Task<int> DiscardAsync(SetAsideChoice choice, CancellationToken cancel)
    {
        int discarded = 0;
        await DoAsync(session => discarded = session.Discard(choice), cancel);
        return discarded;
    }

    /// <summary>Makes a station's roll-ups anew after its placements, or a time zone that its days are counted by, were edited.</summary>
    /// <param name="station">The station.</param>
    /// <param name="from">The first instant whose place or zone changed.</param>
    /// <param name="to">The last one; null for all that follows.</param>
    /// <param name="cancel">Stops waiting; the work is done all the same.</param>
    public Task RebuildAsync(StationId station, DateTimeOffset from, DateTimeOffset? to, CancellationToken cancel)
    {
        // Far beyond any measurement, yet with room to add an hour.
        long end = to?.ToUnixTimeMilliseconds() ?? DateTimeOffset.MaxValue.ToUnixTimeMilliseconds();
        return DoAsync(session => session.Rebuild(station, from.ToUnixTimeMilliseconds(), end), cancel);
    }

    /// <summary>Counts a tool's uses anew after the number at which its running total goes back to nought was edited.</summary>
    public Task RecountAsync(StationId station, string tool, CancellationToken cancel) =>
        DoAsync(session => session.Recount(station, MeasurementName.Uses(tool)), cancel);

    /// <summary>
    /// Makes a station's roll-ups up to an instant final: what is measured at or before it and arrives later is set aside from now on.
    /// </summary>
    /// <param name="station">The station.</param>
    /// <param name="upTo">The start of a local day from which the watch has a checkpoint.</param>
    /// <param name="cancel">Stops waiting; the work is done all the same.</param>
    /// <returns>False, and nothing is sealed, while the watch has not taken in all reports that speak of that time.</returns>
    public async Task<bool> SealAsync(StationId station, DateTimeOffset upTo, CancellationToken cancel)
    {
        bool isSealed = false;
        await DoAsync(session => isSealed = session.Seal(station, upTo.ToUnixTimeMilliseconds()), cancel);
        return isSealed;
    }

    /// <summary>Removes raw rows of a station's sealed time, but for the last of each series; in small parts, so that reports never wait long.</summary>
    /// <param name="station">The station.</param>
    /// <param name="cancel">Stops between two parts.</param>
    /// <returns>How many rows are gone.</returns>
    public async Task<long> PurgeAsync(StationId station, CancellationToken cancel)
    {
        (long all, int part) = (0, 0);
        do
        {
            cancel.ThrowIfCancellationRequested();
            await DoAsync(session => part = session.Purge(station, MostRowsInPurge), cancel);
            all += part;
        }
        while (part > 0);
        return all;
    }

    /// <summary>Writes what still waits, then closes.</summary>
    public async ValueTask DisposeAsync()
    {
        _waiting.Writer.TryComplete();
        await Task.Run(_loop.Join);
        _session.Dispose();
    }

    private async Task DoAsync(Action<WriterSession> action, CancellationToken cancel)
    {
        WriterWork.Chore work = new(action);
        await _waiting.Writer.WriteAsync(work, cancel);
        await work.Done.WaitAsync(cancel);
    }

    private void WriteAll()
    {
        List<WriterWork.Report> group = [];
        while (_waiting.Reader.WaitToReadAsync().AsTask().GetAwaiter().GetResult())
        {
            while (_waiting.Reader.TryRead(out WriterWork? work))
            {
                if (work is WriterWork.Chore chore)
                {
                    chore.Do(_session);
                    continue;
                }

                group.Clear();
                group.Add((WriterWork.Report)work);
                int rows = group[0].Content.Measurements.Count;
                while (rows < MostRowsInGroup
                    && _waiting.Reader.TryPeek(out WriterWork? next)
                    && next is WriterWork.Report report
                    && _waiting.Reader.TryRead(out _))
                {
                    group.Add(report);
                    rows += report.Content.Measurements.Count;
                }

                Write(group);
            }
        }
    }

    private void CatchUp()
    {
        try
        {
            _session.CatchUp();
        }
        catch (SqliteException)
        {
            // Busy or full: the first report that can be written catches up with it.
        }
    }

    private void Write(List<WriterWork.Report> group)
    {
        try
        {
            IReadOnlyList<ReportReceipt> receipts = _session.Write(
                [.. group.Select(work => work.Content)], moreWaits: () => _waiting.Reader.TryPeek(out _));
            for (int i = 0; i < group.Count; i++)
            {
                group[i].Answer(new WriteOutcome.Stored(receipts[i]));
            }
        }
        catch (SqliteException failure) when (failure.SqliteErrorCode is raw.SQLITE_BUSY or raw.SQLITE_LOCKED)
        {
            AnswerAll(group, new WriteOutcome.Busy(RetryAfter));
        }
        catch (SqliteException failure) when (failure.SqliteErrorCode == raw.SQLITE_FULL)
        {
            AnswerAll(group, new WriteOutcome.DiskFull());
        }
        catch (Exception failure) when (group.Count == 1)
        {
            group[0].Fail(failure);
        }
        catch (Exception)
        {
            // One of them broke the whole transaction: alone, only that one fails.
            foreach (WriterWork.Report work in group)
            {
                Write([work]);
            }
        }
    }

    private static void AnswerAll(IEnumerable<WriterWork.Report> group, WriteOutcome outcome)
    {
        foreach (WriterWork.Report work in group)
        {
            work.Answer(outcome);
        }
    }
}
