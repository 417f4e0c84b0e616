using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Web.Tests.Access;
using StagedMargins.Web.Tests.Testing;
using StagedMargins.Web.Writing;

namespace StagedMargins.Web.Tests.Writing;

/// <summary>The same request under the same key is done once, however often it is sent.</summary>
public abstract class IdempotencyTests(TestClinic clinic)
{
    private Caller Surgeon => clinic.Surgeon;

    [Fact]
    public async Task Each_write_sent_again_under_its_key_gives_the_first_answer_and_changes_nothing()
    {
        var @case = Some.Case();
        var opened = await SameTwiceAsync("/api/cases", @case.ToJsonString(), 201);
        var path = $"/api/cases/{opened.Text("id")}";
        await SameTwiceAsync($"{path}/stages", Some.WholeLayer().ToJsonString(), 201);
        await SameTwiceAsync($"{path}/stages/1/blocks", Some.Block("C", "01:00", "02:00").ToJsonString(), 201);
        await SameTwiceAsync($"{path}/stages/1/times", """{ "receivedAt": "2026-03-03T09:14:00-05:00" }""", 200);
        foreach (var block in new[] { "A", "B", "C" })
        {
            await SameTwiceAsync($"{path}/stages/1/blocks/{block}/readings", Some.Clear().ToJsonString(), 201);
        }

        await SameTwiceAsync($"{path}/measured-defect", """{ "lengthMm": 14, "widthMm": 10 }""", 200);
        await SameTwiceAsync($"{path}/end", Some.EndCleared().ToJsonString(), 200);
    }

    [Fact]
    public async Task Each_write_around_the_loop_sent_again_under_its_key_gives_the_first_answer_and_changes_nothing()
    {
        var id = await Surgeon.OpenCaseAsync();
        var path = $"/api/cases/{id}";
        await SameTwiceAsync($"{path}/site-confirmations", "{}", 201);
        await SameTwiceAsync($"{path}/site-confirmations", "{}", 201, clinic.Histotech);
        (await Surgeon.RecordAsync(id, Some.WholeLayer())).Expect(201);
        await SameTwiceAsync($"{path}/facts", """{ "tumour": { "differentiation": "poor" }, "reason": "the slide was read again" }""", 200);
        await SameTwiceAsync($"{path}/anaesthetic", CareSteps.Dose().ToJsonString(), 201);
        await SameTwiceAsync($"{path}/anaesthetic", CareSteps.Dose().ToJsonString(), 201);
        await SameTwiceAsync($"{path}/anaesthetic/1/void", """{ "reason": "wrong patient" }""", 200);
        var read = await SameTwiceAsync($"{path}/stages/1/blocks/A/readings", Some.Clear().ToJsonString(), 201, clinic.Histotech);
        await SameTwiceAsync($"{path}/readings/{read.Text("id")}/countersign", "{}", 200);
        await SameTwiceAsync($"{path}/stages/1/blocks/A/permanent-section", """{ "sentAt": "2026-03-03T12:00:00-05:00" }""", 201);
        await SameTwiceAsync($"{path}/stages/1/blocks/A/permanent-section/result", """{ "outcome": "tumour", "reportedAt": "2026-03-06T12:00:00-05:00" }""", 201);
        await SameTwiceAsync($"{path}/stages/1/blocks/A/second-reads", $$"""{ "readerEmail": "{{TestClinic.OtherSurgeonEmail}}" }""", 201);
        await SameTwiceAsync($"{path}/second-reads/1/answer", """{ "outcome": "tumour" }""", 200, clinic.OtherSurgeon);
        await SameTwiceAsync($"{path}/repair", CareSteps.Repair().ToJsonString(), 201);
        await SameTwiceAsync($"{path}/visits", CareSteps.Visit("2026-06-03", recurrence: false).ToJsonString(), 201);
    }

    [Fact]
    public async Task A_reading_sent_again_gives_the_first_answer_though_its_reader_has_left_and_a_setting_has_changed()
    {
        const string leaving = "n.ferncombe@clinic.invalid";
        await clinic.AddAsync(leaving, "surgeon");
        var id = await Surgeon.OpenWithLayerAsync();
        var (reading, key) = (Some.Clear().With("readerEmail", leaving), ("Idempotency-Key", Guid.NewGuid().ToString()));
        var first = (await clinic.Histotech.ReadAsync(id, 1, "A", reading, key)).Expect(201);
        (await clinic.Administrator.PostAsync($"/api/people/{await clinic.Administrator.PersonIdAsync(leaving)}/disable", null)).Expect(200);
        (await clinic.Histotech.ReadAsync(id, 1, "A", reading, key)).Expect(201).Body.ShouldBe(first.Body);
    }

    [Fact]
    public async Task A_key_used_with_another_body_is_refused()
    {
        var key = ("Idempotency-Key", Guid.NewGuid().ToString());
        var body = Some.Case();
        var opened = (await Surgeon.PostAsync("/api/cases", body, key)).Expect(201);
        var before = await clinic.Database.WrittenAsync();
        (await Surgeon.PostAsync("/api/cases", body.With("areaClass", "L"), key)).ExpectProblem(409);
        (await Surgeon.PostAsync($"/api/cases/{opened.Text("id")}/stages", Some.WholeLayer(), key)).ExpectProblem(409);
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
    }

    [Fact]
    public async Task A_key_is_forgotten_after_thirty_days_and_not_before()
    {
        var (body, key) = (Some.Case(), Guid.NewGuid().ToString());
        var first = (await Surgeon.PostAsync("/api/cases", body, ("Idempotency-Key", key))).Expect(201).Text("id");
        var expiry = clinic.Host.Services.GetRequiredService<AnswerExpiry>();
        await AgeAsync(29);
        await expiry.RunAsync(TestContext.Current.CancellationToken);
        (await Surgeon.PostAsync("/api/cases", body, ("Idempotency-Key", key))).Expect(201).Text("id").ShouldBe(first);
        await AgeAsync(31);
        (await expiry.RunAsync(TestContext.Current.CancellationToken)).ShouldBeGreaterThan(0);
        (await Surgeon.PostAsync("/api/cases", body, ("Idempotency-Key", key))).Expect(201).Text("id").ShouldNotBe(first);

        async Task AgeAsync(int days)
        {
            await using var db = clinic.Database.NewContext();
            var written = clinic.Host.Services.GetRequiredService<TimeProvider>().GetUtcNow().UtcDateTime.AddDays(-days);
            await db.KeptAnswers.IgnoreQueryFilters().Where(answer => answer.Key == key)
                .ExecuteUpdateAsync(set => set.SetProperty(answer => answer.At.Utc, written), TestContext.Current.CancellationToken);
        }
    }

    [Fact]
    public async Task A_key_is_one_persons_own()
    {
        var key = ("Idempotency-Key", Guid.NewGuid().ToString());
        var body = Some.Case();
        var first = (await Surgeon.PostAsync("/api/cases", body, key)).Expect(201).Text("id");
        (await clinic.OtherSurgeon.PostAsync("/api/cases", body, key)).Expect(201).Text("id").ShouldNotBe(first);
    }

    [Fact]
    public async Task A_refused_request_leaves_its_key_free()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var key = ("Idempotency-Key", Guid.NewGuid().ToString());
        (await Surgeon.PostAsync($"/api/cases/{id}/end", Some.EndCleared(), key)).ExpectProblem(409);
        (await Surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        (await Surgeon.PostAsync($"/api/cases/{id}/end", Some.EndCleared(), key)).Expect(200);
    }

    [Fact]
    public async Task An_answer_kept_under_a_key_is_given_even_where_the_case_has_moved_on()
    {
        var id = await Surgeon.OpenWithLayerAsync();
        var key = ("Idempotency-Key", Guid.NewGuid().ToString());
        var first = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear(), key, ("If-Match", "\"2\""))).Expect(201);
        (await Surgeon.ReadAsync(id, 1, "B", Some.Clear())).Expect(201);
        var again = (await Surgeon.ReadAsync(id, 1, "A", Some.Clear(), key, ("If-Match", "\"2\""))).Expect(201);
        again.Body.ShouldBe(first.Body);
        again.Header("ETag").ShouldBe(first.Header("ETag"));
    }

    [Theory]
    [InlineData("case")]
    [InlineData("stage")]
    [InlineData("block")]
    [InlineData("reading")]
    [InlineData("end")]
    public async Task A_request_sent_many_times_at_once_under_one_key_is_done_once_with_one_answer(string what)
    {
        for (var round = 0; round < 5; round++)
        {
            var id = what switch
            {
                "case" => "",
                "stage" => await Surgeon.OpenCaseAsync(),
                "end" => await Surgeon.OpenClearAsync(),
                _ => await Surgeon.OpenWithLayerAsync(),
            };
            var (path, body) = what switch
            {
                "case" => ("/api/cases", Some.Case()),
                "stage" => ($"/api/cases/{id}/stages", Some.WholeLayer()),
                "block" => ($"/api/cases/{id}/stages/1/blocks", Some.Block("C", "01:00", "02:00")),
                "reading" => ($"/api/cases/{id}/stages/1/blocks/A/readings", Some.Clear()),
                _ => ($"/api/cases/{id}/end", Some.EndCleared()),
            };
            var before = await clinic.Database.WrittenAsync();
            var (text, key) = (body.ToJsonString(), ("Idempotency-Key", Guid.NewGuid().ToString()));
            var replies = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => Surgeon.PostTextAsync(path, text, key)));
            replies.Select(reply => reply.Status).Distinct().ShouldBe([what == "end" ? 200 : 201]);
            replies.Select(reply => reply.Body).Distinct().Count().ShouldBe(1);
            replies.Select(reply => reply.Header("Location")).Distinct().Count().ShouldBe(1);
            replies.Select(reply => reply.Header("ETag")).Distinct().Count().ShouldBe(1);
            var after = await clinic.Database.WrittenAsync();

            // A case of a new patient comes with the entry that adds them.
            (after["ledger_entries"] - before["ledger_entries"]).ShouldBe(what == "case" ? 2 : 1);
            (after["kept_answers"] - before["kept_answers"]).ShouldBe(1);
        }
    }

    [Fact]
    public async Task A_key_and_a_sign_in_outlive_the_service()
    {
        var body = Some.Case().ToJsonString();
        var key = ("Idempotency-Key", Guid.NewGuid().ToString());
        var first = (await Surgeon.PostTextAsync("/api/cases", body, key)).Expect(201);
        await using var again = ServiceHost.Start(clinic.Database);
        var replayed = (await again.Stranger().With(Surgeon.Token).PostTextAsync("/api/cases", body, key)).Expect(201);
        replayed.Body.ShouldBe(first.Body);
        replayed.Header("Location").ShouldBe(first.Header("Location"));
    }

    private async Task<Reply> SameTwiceAsync(string path, string body, int status, Caller? caller = null)
    {
        caller ??= Surgeon;
        var key = ("Idempotency-Key", Guid.NewGuid().ToString());
        var first = (await caller.PostTextAsync(path, body, key)).Expect(status);
        var before = await clinic.Database.WrittenAsync();
        var second = (await caller.PostTextAsync(path, body, key)).Expect(status);
        second.Body.ShouldBe(first.Body);
        second.MediaType.ShouldBe(first.MediaType);
        second.Header("Location").ShouldBe(first.Header("Location"));
        second.Header("ETag").ShouldBe(first.Header("ETag"));
        (await clinic.Database.WrittenAsync()).ShouldBe(before);
        return first;
    }
}

[Collection<OnSqlite>]
public sealed class IdempotencyTestsOnSqlite(SqliteClinic clinic) : IdempotencyTests(clinic);

[Collection<OnPostgres>]
public sealed class IdempotencyTestsOnPostgres(PostgresClinic clinic) : IdempotencyTests(clinic);
