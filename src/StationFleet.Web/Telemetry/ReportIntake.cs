using System.Net;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Primitives;
using StationFleet.Domain.Telemetry;
using StationFleet.Storage.Telemetry;
using StationFleet.Web.Platform;

namespace StationFleet.Web.Telemetry;

/// <summary>The way of a request through the intake: key, limit, body, report, answer; and a note of it for the programmer.</summary>
internal sealed partial class ReportIntake(
    StationKeys keys, ReportLimiter limiter, AcceptReport accept, ReportJournal journal, FleetClock clock, ILogger<ReportIntake> logger)
{
    /// <summary>Takes a report.</summary>
    /// <param name="http">The request.</param>
    /// <param name="isDryRun">Only says what would become of it.</param>
    /// <param name="cancel">Stops when the sender has gone.</param>
    public async Task<IResult> HandleAsync(HttpContext http, bool isDryRun, CancellationToken cancel)
    {
        DateTimeOffset received = clock.GetUtcNow();
        string? key = BearerOf(http.Request.Headers.Authorization);
        StationKeys.Lookup found = await keys.FindAsync(key, cancel);
        if (found is not StationKeys.Lookup.Valid { Holder: var sender })
        {
            LogRefusedKey(http.Connection.RemoteIpAddress);
            if (found is StationKeys.Lookup.Refused refused)
            {
                journal.NoteRefusedKey(refused, received);
            }

            return ReportAnswers.Unauthorized(http.Response, sentOne: key is not null);
        }

        (IResult answer, ReadOnlyMemory<byte>? body, ReportReceipt? receipt) = await AnswerAsync(http, sender, isDryRun, cancel);
        if (!isDryRun)
        {
            journal.Note(sender, received, ReportJournal.RequestOf(http.Request, sender, body), answer is ProblemHttpResult problem
                ? ReportJournal.AnswerOf(problem.StatusCode, problem.ProblemDetails.Title!, problem.ProblemDetails.Detail!, receipt)
                : ReportJournal.AnswerOf(StatusCodes.Status200OK, "Taken", "It is on disk.", receipt));
        }

        return answer;
    }

    private async Task<(IResult Answer, ReadOnlyMemory<byte>? Body, ReportReceipt? Receipt)> AnswerAsync(
        HttpContext http, StationKeys.Holder sender, bool isDryRun, CancellationToken cancel)
    {
        if (limiter.WaitFor(sender) is { } wait)
        {
            return (ReportAnswers.TooMany(http.Response, wait), null, null);
        }

        ReadOnlyMemory<byte>? bytes = null;
        try
        {
            ReportBody body = await ReportBody.ReadAsync(http.Request, cancel);
            if (body is not ReportBody.Whole whole)
            {
                return (ReportAnswers.Of(body, http.Response), null, null);
            }

            bytes = whole.Bytes;
            AcceptReport.Outcome outcome = isDryRun
                ? await accept.TryAsync(sender.Station, sender.Context, whole.Bytes, cancel)
                : await accept.HandleAsync(sender, whole.Bytes, SourceOf(http.Request), cancel);
            return (isDryRun ? ReportAnswers.OfDryRun(outcome, http.Response) : ReportAnswers.Of(outcome, http.Response), bytes, ReceiptOf(outcome));
        }
        catch (BadHttpRequestException broken)
        {
            return (ReportAnswers.BrokenRequest(broken.StatusCode), null, null);
        }
        catch when (!http.RequestAborted.IsCancellationRequested)
        {
            // The answer is that of every failure under /api.
            NoteFailure(http, sender, bytes);
            throw;
        }
    }

    private void NoteFailure(HttpContext http, StationKeys.Holder sender, ReadOnlyMemory<byte>? body)
    {
        ProblemHttpResult failed = ReportAnswers.Failed();
        journal.Note(sender, clock.GetUtcNow(), ReportJournal.RequestOf(http.Request, sender, body), ReportJournal.AnswerOf(
            failed.StatusCode, failed.ProblemDetails.Title!, failed.ProblemDetails.Detail!, null));
    }

    private static ReportReceipt? ReceiptOf(AcceptReport.Outcome outcome) => outcome switch
    {
        AcceptReport.Outcome.Stored stored => stored.Receipt,
        AcceptReport.Outcome.NothingCounted nothing => nothing.Receipt,
        _ => null,
    };

    // A person who sends a logger's file with the station's key says so: the station does not count as heard then.
    private static ReportSource SourceOf(HttpRequest request) =>
        request.Query["source"] == "logger-file" ? ReportSource.LoggerFile : ReportSource.Station;

    private static string? BearerOf(StringValues header) =>
        header.Count == 1
        && AuthenticationHeaderValue.TryParse(header[0], out AuthenticationHeaderValue? value)
        && value.Scheme.Equals("Bearer", StringComparison.OrdinalIgnoreCase)
            ? value.Parameter
            : null;

    [LoggerMessage(2121, LogLevel.Warning, "A report without a valid key came from {Address} and was refused.")]
    private partial void LogRefusedKey(IPAddress? address);
}
