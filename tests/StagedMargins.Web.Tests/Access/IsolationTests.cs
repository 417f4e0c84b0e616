using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.StaticAssets;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Storage.People;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>
/// Walks every route of the running service with the numbers of one clinic while signed in to another. A route that is added
/// later is walked by itself; a new parameter, or a body without which its handler is not reached, fails here until it is named.
/// </summary>
public abstract partial class IsolationTests(TestClinic clinic)
{
    private const string Mark = "zqxv";

    /// <summary>Bodies that are right, so that a refusal is about whose the case is and not about the body.</summary>
    private static readonly Dictionary<string, Func<JsonNode>> Bodies = new()
    {
        ["/api/cases/{id:guid}/stages"] = Some.WholeLayer,
        ["/api/cases/{id:guid}/stages/rehearsal"] = Some.WholeLayer,
        ["/api/cases/{id:guid}/stages/{n:int}/blocks"] = () => Some.Block("C", "01:00", "02:00"),
        ["/api/cases/{id:guid}/stages/{n:int}/times"] = () => Some.Json("""{ "receivedAt": "2026-03-03T09:14:00-05:00" }"""),
        ["/api/cases/{id:guid}/stages/{n:int}/blocks/{label}/readings"] = () => Some.Clear().Without("readerEmail").With("readerEmail", ReaderThere),
        ["/api/cases/{id:guid}/stages/{n:int}/blocks/{label}/readings/rehearsal"] = () => Some.Clear().Without("readerEmail").With("readerEmail", ReaderThere),
        ["/api/cases/{id:guid}/end"] = () => Some.Json("""{ "outcome": "stoppedNotCleared", "endedAt": "2026-03-03T12:00:00-05:00", "reason": "x", "plan": "y" }"""),
        ["/api/cases/{id:guid}/measured-defect"] = () => Some.Json("""{ "lengthMm": 14, "widthMm": 10 }"""),
        ["/api/cases/{id:guid}/facts"] = () => Some.Json("""{ "immunosuppressed": true, "reason": "x" }"""),
        ["/api/cases/{id:guid}/site-confirmations"] = () => new JsonObject(),
        ["/api/cases/{id:guid}/anaesthetic"] = CareSteps.Dose,
        ["/api/cases/{id:guid}/anaesthetic/{number:int}/void"] = () => Some.Json("""{ "reason": "x" }"""),
        ["/api/cases/{id:guid}/repair"] = CareSteps.Repair,
        ["/api/cases/{id:guid}/visits"] = () => CareSteps.Visit("2026-06-03", recurrence: false),
        ["/api/cases/{id:guid}/stages/{n:int}/blocks/{label}/permanent-section/result"] = () => Some.Json("""{ "outcome": "tumour" }"""),
        ["/api/cases/{id:guid}/stages/{n:int}/blocks/{label}/second-reads"] = () => new JsonObject { ["readerEmail"] = ReaderThere },
        ["/api/cases/{id:guid}/second-reads/{number:int}/answer"] = () => Some.Json("""{ "outcome": "clear" }"""),
        ["/api/cases/{id:guid}/second-reads/{number:int}/give-back"] = () => Some.Json("""{ "reason": "x" }"""),
        ["/api/cases/{id:guid}/stages/{n:int}/blocks/{label}/permanent-sections/{sectionId:int}/result"] = () => Some.Json("""{ "outcome": "tumour" }"""),
        ["/api/cases/{id:guid}/stages/{n:int}/correction"] = () => Some.Json("""{ "reason": "x", "takenAt": "2026-03-03T09:14:00-05:00" }"""),
        ["/api/cases/{id:guid}/stages/{n:int}/withdrawal"] = () => Some.Json("""{ "reason": "x" }"""),
        ["/api/cases/{id:guid}/readings/{readingId:guid}/withdrawal"] = () => Some.Json("""{ "reason": "x" }"""),
        ["/api/cases/{id:guid}/reopening"] = () => Some.Json("""{ "reason": "x" }"""),
        ["/api/cases/{id:guid}/countersignatures"] = () => new JsonObject { ["readingIds"] = new JsonArray(Guid.NewGuid()) },
        ["/api/cases/{id:guid}/reviews/{reviewId:guid}/resolution"] = () => Some.Json("""{ "decision": "observe", "note": "x" }"""),
        ["/api/people/{personId:guid}/roles"] = () => Some.Json("""{ "roles": ["surgeon"] }"""),
    };

    private const string ReaderThere = "reader-there@other.invalid";

    private const string EndedIn = "2020-01";

    // What stands in these addresses is the same in every clinic; the answer is about the caller's own.
    private static readonly string[] NamesNothingThere = ["/openapi", "/api-docs", "/api/audit", "/api/counting-units"];

    private static readonly string[] ActOnTheCallerAlone = ["/api/auth/logout", "/sign-out", "/sign-in"];

    [Fact]
    public async Task Nobody_of_another_clinic_reads_or_changes_anything_through_any_route()
    {
        var there = await ThereAsync();
        var before = await FingerprintAsync(there.ClinicId);
        var callers = await CallersAsync();
        var walked = 0;
        foreach (var (who, caller) in callers)
        {
            foreach (var (method, pattern) in Routes())
            {
                var (reply, path) = await SendAsync(caller, method, pattern, there);
                var context = $"{method} {pattern} as {who}";
                if (path != pattern)
                {
                    reply.Status.ShouldBeOneOf([403, 404], $"{context}: {reply.Body}");
                }

                reply.Status.ShouldBeLessThan(500, context);
                Secrets(there).Where(secret => reply.Body.Contains(secret, StringComparison.OrdinalIgnoreCase)).ShouldBeEmpty(context);
                walked++;
            }
        }

        walked.ShouldBeGreaterThan(200);
        (await FingerprintAsync(there.ClinicId)).ShouldBe(before);
    }

    [Fact]
    public async Task The_same_walk_by_someone_of_the_clinic_does_find_it()
    {
        var there = await ThereAsync();
        var email = $"o{Guid.NewGuid():N}@there.invalid";
        var insider = await TestClinic.AddAsync(there.Administrator, clinic.Stranger, email, [.. Roles.All]);
        var found = 0;
        foreach (var (method, pattern) in Routes().Where(route => route.Method == "GET" && route.Pattern.Contains("{id:guid}", StringComparison.OrdinalIgnoreCase)))
        {
            var (reply, _) = await SendAsync(insider, method, pattern, there);
            reply.Status.ShouldBe(200, $"{method} {pattern}: {reply.Body}");
            found += Secrets(there).Any(secret => reply.Body.Contains(secret, StringComparison.OrdinalIgnoreCase)) ? 1 : 0;
        }

        found.ShouldBeGreaterThan(4);
    }

    [Fact]
    public async Task A_key_of_another_clinic_is_nobodys()
    {
        var outsider = await OtherClinic.SurgeonAsync(clinic);
        var body = Some.Case();
        var own = (await clinic.Surgeon.PostAsync("/api/cases", body, ("Idempotency-Key", "the-same-key"))).Expect(201);
        var other = (await outsider.PostAsync("/api/cases", body.Without("surgeonEmail"), ("Idempotency-Key", "the-same-key"))).Expect(201);
        other.Text("id").ShouldNotBe(own.Text("id"));
    }

    [Fact]
    public async Task Events_of_a_case_are_heard_in_its_own_clinic_alone()
    {
        var outsider = await OtherClinic.SurgeonAsync(clinic);
        using var http = new HttpClient { BaseAddress = clinic.Host.Address };
        using var request = new HttpRequestMessage(HttpMethod.Get, "/api/events");
        request.Headers.Authorization = new("Bearer", outsider.Token);
        using var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        using var stream = new StreamReader(await response.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken));
        (await stream.ReadLineAsync(TestContext.Current.CancellationToken)).ShouldBe("event: listening");
        await clinic.Surgeon.OpenCaseAsync();
        var own = await outsider.OpenCaseAsync(Some.Case().Without("surgeonEmail"));
        string? line;
        do
        {
            line = await stream.ReadLineAsync(TestContext.Current.CancellationToken).AsTask().WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
        }
        while (line?.StartsWith("data: {", StringComparison.Ordinal) != true);
        line.ShouldContain(own);
    }

    private static IEnumerable<string> Secrets(There there) =>
        [Mark, there.CaseId, there.ReadingId, there.PersonId, there.TokenId, there.ClinicId.ToString(), .. there.Emails];

    // The clinic whose data are to stay its own, with a case that holds a mark in every free text.
    private async Task<There> ThereAsync()
    {
        var adminEmail = $"a{Guid.NewGuid():N}@there.invalid";
        var administrator = await TestClinic.FoundAsync(clinic.Host, adminEmail, $"Clinic {Mark}");
        var email = $"s{Guid.NewGuid():N}@there.invalid";
        var surgeon = await TestClinic.AddAsync(administrator, clinic.Stranger, email, "surgeon");
        var body = Some.Case().With("surgeonEmail", email).With("patientRef", $"P-{Mark}-{Guid.NewGuid():N}").With("twelveOClock", $"toward {Mark}").With("site.detail", Mark).With("caseNumber", $"{Mark}{Guid.NewGuid():N}"[..20]);
        var caseId = await surgeon.OpenCaseAsync(body);
        await surgeon.AddSitePhotoAsync(caseId, CameraFile.Png(40, 30));
        (await surgeon.RecordAsync(caseId, Some.WholeLayer())).Expect(201);
        var reading = (await surgeon.ReadAsync(caseId, 1, "A", Some.Clear().With("readerEmail", email).With("note", Mark))).Expect(201);
        (await surgeon.PostAsync($"/api/cases/{caseId}/anaesthetic", CareSteps.Dose())).Expect(201);
        (await surgeon.PostAsync($"/api/cases/{caseId}/stages/1/blocks/A/permanent-section", new JsonObject { ["sentAt"] = "2026-03-03T12:00:00-05:00" })).Expect(201);
        (await surgeon.EndAsync(caseId, Some.Json($$"""{ "outcome": "stoppedNotCleared", "reason": "x", "plan": "y", "endedAt": "{{EndedIn}}-15T12:00:00-04:00" }"""))).Expect(200);
        var token = (await administrator.PostAsync("/api/tokens", Some.Json($$"""{ "name": "{{Mark}}", "roles": ["surgeon"] }"""))).Expect(201);
        await using var db = clinic.Database.NewContext();
        var clinicId = await db.Users.Where(person => person.Email == email).Select(person => person.ClinicId).SingleAsync();
        return new There(administrator, clinicId, caseId, reading.Text("id"), await administrator.PersonIdAsync(email), token.Text("apiToken.id"), [adminEmail, email]);
    }

    private async Task<Dictionary<string, Caller>> CallersAsync()
    {
        var administrator = await OtherClinic.AdministratorAsync(clinic);
        var callers = new Dictionary<string, Caller> { ["stranger"] = clinic.Stranger };
        foreach (var role in Roles.All)
        {
            callers[role] = await TestClinic.AddAsync(administrator, clinic.Stranger, $"{role}{Guid.NewGuid():N}@other.invalid", role);
        }

        callers["every role"] = await TestClinic.AddAsync(administrator, clinic.Stranger, $"e{Guid.NewGuid():N}@other.invalid", [.. Roles.All]);
        var token = (await administrator.PostAsync("/api/tokens", Some.Json("""{ "name": "Another system", "roles": ["histotech", "surgeon", "manager", "administrator"] }"""))).Expect(201);
        callers["another system"] = clinic.Stranger.With(token.Text("token"));
        await AddReaderAsync(administrator);
        callers.Remove("stranger");
        return callers;
    }

    // A reading names a surgeon of the caller's own clinic, so that its refusal is about the case.
    private async Task AddReaderAsync(Caller administrator)
    {
        var reply = await administrator.PostAsync("/api/people", Some.Person(ReaderThere, "surgeon"));
        reply.Status.ShouldBeOneOf(201, 400);
        await Task.CompletedTask;
    }

    private IEnumerable<(string Method, string Pattern)> Routes() =>
        from endpoint in clinic.Host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        where endpoint.Metadata.GetMetadata<StaticAssetDescriptor>() is null
        let pattern = $"/{endpoint.RoutePattern.RawText!.Trim('/')}"
        where !ActOnTheCallerAlone.Contains(pattern) && !pattern.StartsWith("/_", StringComparison.Ordinal)
        let isPage = endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is not null
        from method in isPage ? ["GET"] : endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["GET"]
        select (method, pattern);

    private async Task<(Reply Reply, string Path)> SendAsync(Caller caller, string method, string pattern, There there)
    {
        var path = Parameter().Replace(pattern, match => match.Groups[1].Value.ToUpperInvariant() switch
        {
            "ID" => there.CaseId,
            "READINGID" => there.ReadingId,
            "PERSONID" => there.PersonId,
            "TOKENID" => there.TokenId,
            "PASSKEYID" => "AAAA",
            "N" or "NUMBER" or "SECTIONID" => "1",
            "REVIEWID" => there.ReadingId,
            "LABEL" => "A",
            "MONTH" => EndedIn,
            "DOCUMENTNAME" => "v1",
            "PATH" => "no-such-file.css",
            var other => pattern.StartsWith("/api-docs", StringComparison.Ordinal) ? "v1" : throw new NotSupportedException($"Say here what {other} of {pattern} is in the other clinic."),
        });
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        if (method == "POST")
        {
            request.Content = new StringContent((Bodies.GetValueOrDefault(pattern)?.Invoke() ?? new JsonObject()).ToJsonString(), System.Text.Encoding.UTF8, "application/json");
        }

        // The stream of events never ends; what it sends is tested on its own.
        return path == "/api/events" ? (new Reply(200, null, "", new Dictionary<string, string>()), path) : (await caller.SendAsync(request), NamesNothingThere.Any(start => path.StartsWith(start, StringComparison.Ordinal)) ? pattern : path);
    }

    private async Task<string> FingerprintAsync(Guid clinicId)
    {
        await using var db = clinic.Database.NewContext(clinicId);
        return JsonSerializer.Serialize(new object[]
        {
            await db.Clinics.Where(c => c.Id == clinicId).OrderBy(c => c.Id).ToListAsync(),
            await db.Users.Where(person => person.ClinicId == clinicId).OrderBy(person => person.Id).ToListAsync(),
            await db.UserRoles.Join(db.Users.Where(person => person.ClinicId == clinicId), held => held.UserId, person => person.Id, (held, _) => new { held.UserId, held.RoleId }).OrderBy(held => held.UserId).ThenBy(held => held.RoleId).ToListAsync(),
            await db.ApiTokens.OrderBy(token => token.Id).ToListAsync(),
            await db.Cases.OrderBy(c => c.CaseId).ToListAsync(),
            await db.Ledger.OrderBy(row => row.Stream).ThenBy(row => row.Number).Select(row => row.Hash).ToListAsync(),
            await db.LedgerHeads.OrderBy(head => head.Stream).ToListAsync(),
            await db.SecondReads.OrderBy(read => read.CaseId).ThenBy(read => read.Number).ToListAsync(),
            await db.Photographs.CountAsync(),
            await db.KeptAnswers.CountAsync(),
            await db.AuditCases.OrderBy(row => row.CaseId).ToListAsync(),
            await db.MonthClosings.CountAsync(),
            await db.AccessLog.CountAsync(),
        });
    }

    [GeneratedRegex(@"\{\**([^:}?=]+)[^}]*\}")]
    private static partial Regex Parameter();

    private sealed record There(Caller Administrator, Guid ClinicId, string CaseId, string ReadingId, string PersonId, string TokenId, string[] Emails);
}

[Collection<OnSqlite>]
public sealed class IsolationTestsOnSqlite(SqliteClinic clinic) : IsolationTests(clinic);

[Collection<OnPostgres>]
public sealed class IsolationTestsOnPostgres(PostgresClinic clinic) : IsolationTests(clinic);
