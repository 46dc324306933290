using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Net.Http.Headers;
using StationFleet.Storage.Telemetry;

namespace StationFleet.Web.Telemetry;

/// <summary>The answers of the intake; a refusal is a problem document (RFC 9457) that says what to do next.</summary>
internal static class ReportAnswers
{
    private static readonly TimeSpan DiskFullWait = TimeSpan.FromMinutes(10);

    /// <summary>A record that does not count, by its place in the pack.</summary>
    internal sealed record NotCounted(int Index, string Reason);

    internal sealed record Receipt(int Accepted, int Repeated, IReadOnlyList<NotCounted> SetAside);

    /// <summary>The answer of a dry run: the receipt, and each record as it would be stored.</summary>
    internal sealed record DryReceipt(int Accepted, int Repeated, IReadOnlyList<NotCounted> SetAside, IReadOnlyList<DryRecord> Records);

    internal sealed record DryRecord(
        int Index, string Name, string Series, string? Unit, decimal? Time, string? At, double? Value, string Outcome, string? Reason, string Meaning);

    private sealed record Fault(string Detail, string Pointer);

    /// <summary>The answer of a dry run: like the real one, with each record's reading.</summary>
    public static IResult OfDryRun(AcceptReport.Outcome outcome, HttpResponse response)
    {
        switch (outcome)
        {
            case AcceptReport.Outcome.Stored stored:
                Receipt receipt = ReceiptOf(stored.Receipt);
                return TypedResults.Ok(new DryReceipt(receipt.Accepted, receipt.Repeated, receipt.SetAside, RecordsOf(stored.Read, stored.Receipt)));
            case AcceptReport.Outcome.NothingCounted nothing:
                ProblemHttpResult problem = NoneCounts("Every record would be set aside. This was a dry run: nothing was stored.", nothing.Receipt);
                problem.ProblemDetails.Extensions["records"] = RecordsOf(nothing.Read, nothing.Receipt);
                return problem;
            default:
                return Of(outcome, response);
        }
    }

    public static IResult Of(AcceptReport.Outcome outcome, HttpResponse response) => outcome switch
    {
        AcceptReport.Outcome.Stored stored => TypedResults.Ok(ReceiptOf(stored.Receipt)),
        AcceptReport.Outcome.NothingCounted kept => NoneCounts(
            "Every record was set aside. They are kept with their reasons; do not send them again.", kept.Receipt),
        AcceptReport.Outcome.Broken { Fault: var fault } => Problem(
            StatusCodes.Status400BadRequest,
            "No lawful SenML pack",
            fault.Record is { } record ? $"Record {record.ToString(CultureInfo.InvariantCulture)}: {fault.Detail}" : fault.Detail,
            [fault.Record is { } index ? FaultAt(index, fault.Detail) : new Fault(fault.Detail, "#")]),
        AcceptReport.Outcome.Foreign => Problem(
            StatusCodes.Status403Forbidden,
            "Another station's name",
            "The base name must be the code of the station whose key this is, followed by a slash, or be left out."),
        AcceptReport.Outcome.Busy busy => Unavailable(response, busy.RetryAfter, "The database is busy; nothing of the report was stored."),
        AcceptReport.Outcome.DiskFull => Unavailable(response, DiskFullWait, "The server's disk is full; nothing of the report was stored."),
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    public static IResult Of(ReportBody body, HttpResponse response)
    {
        switch (body)
        {
            case ReportBody.TooLarge:
                return Problem(
                    StatusCodes.Status413PayloadTooLarge, "Too large", "A report holds at most 1 MiB, counted unpacked. Send it in parts.");
            case ReportBody.WrongType:
                response.Headers[HeaderNames.Accept] = ReportBody.Types;
                return Problem(
                    StatusCodes.Status415UnsupportedMediaType, "Unknown media type", $"Send one of {ReportBody.Types}, in UTF-8.");
            case ReportBody.WrongCoding:
                response.Headers[HeaderNames.AcceptEncoding] = ReportBody.Codings;
                return Problem(
                    StatusCodes.Status415UnsupportedMediaType, "Unknown content coding", "Send the body as it is, or packed once by gzip.");
            case ReportBody.Damaged:
                return Problem(StatusCodes.Status400BadRequest, "Damaged gzip", "The body calls itself gzip and cannot be unpacked.");
            default:
                throw new System.Diagnostics.UnreachableException();
        }
    }

    public static IResult Unauthorized(HttpResponse response, bool sentOne)
    {
        // RFC 6750 §3: no error code when no credentials were sent.
        response.Headers.WWWAuthenticate = sentOne ? "Bearer realm=\"reports\", error=\"invalid_token\"" : "Bearer realm=\"reports\"";
        return Problem(
            StatusCodes.Status401Unauthorized, "No valid station key", "Send the station's key as 'Authorization: Bearer <key>'.");
    }

    public static IResult TooMany(HttpResponse response, TimeSpan wait)
    {
        SetRetryAfter(response, wait);
        return Problem(
            StatusCodes.Status429TooManyRequests,
            "Too many reports",
            "A key may send 120 reports a minute, and 600 at once. Keep the rest and wait as Retry-After says.");
    }

    public static IResult WrongMethod(HttpResponse response, string allowed)
    {
        response.Headers.Allow = allowed;
        return Problem(StatusCodes.Status405MethodNotAllowed, "Wrong method", $"Use {allowed} here.");
    }

    public static IResult BrokenRequest(int status) => Problem(
        status,
        status == StatusCodes.Status408RequestTimeout ? "Too slow" : "Broken request",
        status == StatusCodes.Status408RequestTimeout
            ? "The body did not arrive in time; nothing was stored. Send it again."
            : "The request breaks the rules of HTTP or broke off; nothing was stored.");

    public static ProblemHttpResult Failed() => Problem(
        StatusCodes.Status500InternalServerError,
        "The server failed",
        "It is not known whether the report was stored. Send the same bytes again later: what is stored already counts as repeated.");

    public static IResult NoSuchAddress() => Problem(
        StatusCodes.Status404NotFound, "No such address", "Stations send to /api/v1/reports, may try a report at /api/v1/reports/dry-run, and may ask /api/v1/time.");

    private static ProblemHttpResult NoneCounts(string detail, ReportReceipt receipt) => Problem(
        StatusCodes.Status422UnprocessableEntity,
        "No record counts",
        detail,
        [.. receipt.SetAside.OrderBy(record => record.Index).Select(record => FaultAt(record.Index, record.Reason))]);

    private static DryRecord[] RecordsOf(ReadReport read, ReportReceipt receipt) => [.. read.Records(receipt).Select(record => new DryRecord(
        record.Index,
        record.Name,
        record.Series,
        record.Unit,
        record.At?.ToUnixTimeMilliseconds() / 1000m,
        record.At?.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture),
        record.Value,
        record.Fate switch { RecordFate.New => "new", RecordFate.Repeated => "repeated", _ => "set aside" },
        record.Reason,
        record.Meaning))];

    private static Receipt ReceiptOf(ReportReceipt receipt) => new(
        receipt.Accepted,
        receipt.Repeated,
        [.. receipt.SetAside.OrderBy(record => record.Index).Select(record => new NotCounted(record.Index, record.Reason))]);

    private static ProblemHttpResult Unavailable(HttpResponse response, TimeSpan wait, string detail)
    {
        SetRetryAfter(response, wait);
        return Problem(
            StatusCodes.Status503ServiceUnavailable, "Not stored", detail + " Keep it and send it again after the time of Retry-After.");
    }

    private static void SetRetryAfter(HttpResponse response, TimeSpan wait) =>
        response.Headers.RetryAfter = Math.Max(1, Math.Ceiling(wait.TotalSeconds)).ToString(CultureInfo.InvariantCulture);

    private static Fault FaultAt(int record, string detail) => new(detail, string.Create(CultureInfo.InvariantCulture, $"#/{record}"));

    private static ProblemHttpResult Problem(int status, string title, string detail, params IReadOnlyList<Fault> errors)
    {
        ProblemDetails problem = new() { Status = status, Title = title, Detail = detail };
        if (errors.Count > 0)
        {
            problem.Extensions["errors"] = errors;
        }

        return TypedResults.Problem(problem);
    }
}
