using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Mvc;
using StagedMargins.Core;
using StagedMargins.Storage.Cases;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Contract;

namespace StagedMargins.Web.Problems;

/// <summary>Turns refusals into problem details (RFC 9457) that a person can act on. Anything else stays an error of the program.</summary>
/// <param name="writer">Writes them.</param>
public sealed partial class ProblemHandler(IProblemDetailsService writer) : IExceptionHandler
{
    /// <inheritdoc/>
    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        if (ProblemOf(exception, httpContext.Request) is not { } problem)
        {
            return false;
        }

        httpContext.Response.StatusCode = problem.Status!.Value;
        if (WaitFor(exception, problem.Status.Value) is { } seconds)
        {
            httpContext.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        }

        if (!await writer.TryWriteAsync(new ProblemDetailsContext { HttpContext = httpContext, ProblemDetails = problem }))
        {
            // Someone takes nothing in which problems are written, so they get the words alone.
            httpContext.Response.ContentType = "text/plain; charset=utf-8";
            await httpContext.Response.WriteAsync($"{problem.Title}. {problem.Detail}", cancellationToken);
        }

        return true;
    }

    private static int? WaitFor(Exception exception, int status) => exception switch
    {
        TooManyTriesException e => e.WaitSeconds,
        _ when status == StatusCodes.Status503ServiceUnavailable => 2,
        _ => null,
    };

    private static ProblemDetails? ProblemOf(Exception exception, HttpRequest request) => exception switch
    {
        InvalidEntryException e => Invalid(new Dictionary<string, string[]> { [e.Field] = [e.Message] }),
        InvalidRequestException e => Invalid(e.Errors),
        RuleViolationException e => Forbidden(e),
        UnreadableEntryException e => Describe(409, "notIntact", "This case can't be read", $"{e.Message} Have the record checked (the command verify); its history shows every entry as it stands."),
        NewerRecordException => Describe(409, "recordNewer", "A newer version of the program writes this record", "This copy of the program is older than the record and would break it. Nothing was written. Use the newer version, and tell the operator to bring every copy up to date."),
        LedgerDiffersException => Describe(409, "recordEndDiffers", "The record does not end where it was last sealed", "Nothing can be written to this clinic's record until someone has found out why: have it checked with the command verify. An administrator can then accept its end with a reason (POST /api/clinic/record-end)."),
        NotInRecordException e => Describe(404, "notFound", "Not found", e.Message),
        NotYourRoleException e => Describe(403, "notYourRole", "Not for your role", e.Message),
        NotSignedInException e => Describe(401, e.Type, "Not signed in", e.Message),
        TooManyTriesException e => Describe(429, "tooManyTries", "Too many sign-ins", e.Message),
        AntiforgeryValidationException => Describe(403, "requestToken", "Not from our own page", "With cookie sign-in, a change needs the token from GET /api/auth/antiforgery in its header. Reload the page, or sign in through the API."),
        StaleVersionException e => Describe(412, "changedMeanwhile", "Changed meanwhile", e.Message),
        BadHttpRequestException { InnerException: JsonException e } => Invalid(OfJson(e)),
        BadHttpRequestException { StatusCode: 400 } e => Invalid(Malformed(e)),
        // The framework's own words for the other statuses, with the detail set in one place.
        BadHttpRequestException e => new ProblemDetails { Status = e.StatusCode },
        // The framework takes a form of a page that it can't decode for a fault of the program.
        InvalidDataException when request.HasFormContentType => Invalid(new Dictionary<string, string[]> { ["body"] = ["This form can't be read."] }),
        // The framework takes a charset that it does not know for a fault of the program.
        InvalidOperationException when request.GetTypedHeaders().ContentType is { Charset.HasValue: true, Encoding: null } => new ProblemDetails { Status = 415 },
        // The framework makes no form for a page without TLS, as its cookie would be sent in the clear.
        InvalidOperationException { Source: "Microsoft.AspNetCore.Antiforgery" } when !request.IsHttps => Describe(403, "needsHttps", "HTTPS required", "Pages and cookies need HTTPS: put a TLS proxy in front of the service and name it in Proxy:KnownProxies, or start with --demo to try the program."),
        _ when DatabaseFaults.IsFull(exception) => Describe(507, "recordFull", "The disk is full", "Nothing from this request was kept. The operator must free up space for the record; then send the request again with the same Idempotency-Key."),
        _ when DatabaseFaults.IsReadOnly(exception) => Describe(503, "recordReadOnly", "The record is read-only", "Nothing from this request was kept. The operator must make the record writable; then send the request again with the same Idempotency-Key."),
        _ when DatabaseFaults.IsPassing(exception) => Describe(503, "databaseAway", "The database does not answer", "It may have gone away while storing this request. Wait a moment and send the request again with the same Idempotency-Key: it is then written only once."),
        _ when DatabaseFaults.IsConflict(exception) => Describe(409, "writtenMeanwhile", "Written by someone else", "Someone else wrote at the same moment, so nothing from this request was kept. Check the case and send it again."),
        _ => null,
    };

    private static ProblemDetails Describe(int status, string type, string title, string detail) => new()
    {
        Status = status,
        Type = $"urn:stagedmargins:problem:{type}",
        Title = title,
        Detail = detail,
    };

    private static ProblemDetails Invalid(IReadOnlyDictionary<string, string[]> errors)
    {
        var problem = Describe(400, "invalid", "The request can't be taken as it is", string.Join(" ", errors.Select(pair => $"{pair.Key}: {string.Join(" ", pair.Value)}")));
        problem.Extensions["errors"] = errors;
        return problem;
    }

    private static ProblemDetails Forbidden(RuleViolationException e)
    {
        var problem = Describe(409, e.Rule, "The rules of the record forbid this now", e.Message);
        problem.Extensions["arcs"] = e.Places.Select(PlaceView.Of).ToArray();
        return problem;
    }

    private static Dictionary<string, string[]> Malformed(BadHttpRequestException e) => ParameterName().Match(e.Message) is { Success: true } match && match.Groups[1].Value != "body"
        ? new() { [JsonNamingPolicy.CamelCase.ConvertName(match.Groups[1].Value)] = ["This value can't be read."] }
        : new() { ["body"] = ["Send one JSON object with the fields of this route."] };

    private static Dictionary<string, string[]> OfJson(JsonException e)
    {
        var path = e.Path is { Length: > 2 } p ? p[2..] : "body";
        return UnknownField().Match(e.Message) is { Success: true } unknown
            ? new() { [Name(path, unknown.Groups[1].Value)] = ["Unknown field. Check its spelling, or leave it out."] }
            : new() { [path] = [TwiceField().IsMatch(e.Message) ? "This field is given twice." : Expected(e.Message)] };
    }

    private static string Name(string path, string field) => path == "body" || path == field || path.EndsWith($".{field}", StringComparison.Ordinal)
        ? (path == "body" ? field : path)
        : $"{path}.{field}";

    private static string Expected(string message) => message switch
    {
        _ when message.Contains("could not be converted to", StringComparison.Ordinal) => ExpectedType(message),
        _ when message.Contains("invalid", StringComparison.Ordinal) || message.Contains("depth", StringComparison.Ordinal) || message.Contains("Expected", StringComparison.Ordinal) => "The body is not well-formed JSON here.",
        _ => message.Split(" Path: ")[0],
    };

    private static string ExpectedType(string message) => message switch
    {
        _ when message.Contains("Decimal", StringComparison.Ordinal) || message.Contains("Double", StringComparison.Ordinal) => "Must be a number.",
        _ when message.Contains("Int32", StringComparison.Ordinal) => "Must be a whole number.",
        _ when message.Contains("Boolean", StringComparison.Ordinal) => "Must be true or false.",
        _ when message.Contains("Guid", StringComparison.Ordinal) => "Must be an id given by this service.",
        _ when message.Contains("DateOnly", StringComparison.Ordinal) => "Must be a date, for example 2026-03-03.",
        _ when message.Contains("System.String", StringComparison.Ordinal) => "Must be a text.",
        _ when message.Contains("[]", StringComparison.Ordinal) || message.Contains("List", StringComparison.Ordinal) => "Must be a list.",
        _ => "Wrong kind of value; see the API description.",
    };

    [GeneratedRegex("JSON property '([^']*)' could not be mapped", RegexOptions.CultureInvariant)]
    private static partial Regex UnknownField();

    [GeneratedRegex("[Dd]uplicate", RegexOptions.CultureInvariant)]
    private static partial Regex TwiceField();

    [GeneratedRegex("parameter \"[^\"]*? ([A-Za-z]+)\"", RegexOptions.CultureInvariant)]
    private static partial Regex ParameterName();
}
