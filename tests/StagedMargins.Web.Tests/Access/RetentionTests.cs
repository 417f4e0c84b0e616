using System.Text.Json.Nodes;
using Microsoft.Extensions.Time.Testing;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

public abstract class RetentionTests(Engine engine, PostgresServer server)
{
    private const string Administrator = "a@clinic.invalid";
    private const string SurgeonEmail = TestClinic.SurgeonEmail;

    [Fact]
    public async Task Each_period_is_warned_of_on_its_day_counted_from_the_last_change_and_nothing_is_deleted()
    {
        var clock = new FakeTimeProvider(new DateTimeOffset(2010, 6, 15, 12, 0, 0, TimeSpan.Zero));
        await using var database = await server.Templates.MigratedAsync(engine);
        await using var host = ServiceHost.Start(database, clock);
        await TestClinic.AddAsync(await TestClinic.FoundAsync(host, Administrator, "Clinic of the years"), host.Stranger(), SurgeonEmail, "surgeon");
        var surgeon = await SignInAsync(host, SurgeonEmail);
        var ended = await EndedAsync(surgeon, "ended");
        var amended = await EndedAsync(surgeon, "amended");
        await surgeon.OpenCaseAsync(Some.Case().With("caseNumber", "open"));
        await PastAsync(host, [], [], []);

        // A reading of the second case is amended a year later.
        clock.Advance(TimeSpan.FromDays(365));
        surgeon = await SignInAsync(host, SurgeonEmail);
        var reading = (await surgeon.CaseAsync(amended)).Text("stages[0].blocks[0].readings[0].id");
        (await surgeon.ReadAsync(amended, 1, "A", Clear("2011-06-15T12:00:00Z").With("amends", reading).With("reason", "second look"))).Expect(201);

        await AtAsync(clock, 2012, 6, 14);
        await PastAsync(host, [], [], []);
        await AtAsync(clock, 2012, 6, 16);
        await PastAsync(host, [], ["ended"], []);
        await AtAsync(clock, 2013, 6, 16);
        await PastAsync(host, [], ["amended", "ended"], []);
        await AtAsync(clock, 2020, 6, 14);
        await PastAsync(host, [], ["amended", "ended"], []);
        await AtAsync(clock, 2020, 6, 16);
        await PastAsync(host, ["ended"], ["amended", "ended"], ["ended"]);

        var administrator = await SignInAsync(host, Administrator);
        (await administrator.PostAsync("/api/clinic", Some.Json("""{ "retention": { "slideYears": 12 } }"""))).Expect(200).At("retention")
            .ShouldBeJson("""{ "slideYears": 12, "blockYears": 2, "recordYears": 10 }""");
        await PastAsync(host, [], ["amended", "ended"], ["ended"]);
        (await (await SignInAsync(host, SurgeonEmail)).CaseAsync(ended)).Text("caseNumber").ShouldBe("ended");
    }

    private static JsonObject Clear(string readAt) => Some.Clear().With("readAt", readAt);

    private static Task AtAsync(FakeTimeProvider clock, int year, int month, int day)
    {
        clock.SetUtcNow(new DateTimeOffset(year, month, day, 12, 0, 0, TimeSpan.Zero));
        return Task.CompletedTask;
    }

    private static Task<Caller> SignInAsync(ServiceHost host, string email) => host.Stranger().SignInAsync(email, TestClinic.Password);

    private static async Task<string> EndedAsync(Caller surgeon, string number)
    {
        var id = await surgeon.OpenCaseAsync(Some.Case().With("caseNumber", number));
        (await surgeon.RecordAsync(id, Some.WholeLayer().With("takenAt", "2010-06-15T09:00:00Z"))).Expect(201);
        (await surgeon.ReadAsync(id, 1, "A", Clear("2010-06-15T10:00:00Z"))).Expect(201);
        (await surgeon.ReadAsync(id, 1, "B", Clear("2010-06-15T10:00:00Z"))).Expect(201);
        (await surgeon.EndAsync(id, Some.EndCleared().With("endedAt", "2010-06-15T11:00:00Z"))).Expect(200);
        return id;
    }

    private static async Task PastAsync(ServiceHost host, string[] slides, string[] blocks, string[] records)
    {
        var administrator = await SignInAsync(host, Administrator);
        var reply = (await administrator.GetAsync("/api/clinic/retention")).Expect(200);
        foreach (var (what, numbers) in new[] { ("slides", slides), ("blocks", blocks), ("records", records) })
        {
            reply.At($"{what}.caseNumbers")!.AsArray().Select(number => number!.GetValue<string>()).Order(StringComparer.Ordinal).ToArray().ShouldBe(numbers, ignoreOrder: false, customMessage: $"{what} at {reply.Text($"{what}.before")}");
            reply.Number($"{what}.count").ShouldBe(numbers.Length);
        }

        reply.Body.ShouldNotContain("T-0");
    }
}

public sealed class RetentionTestsOnSqlite(PostgresServer server) : RetentionTests(Engine.Sqlite, server);

public sealed class RetentionTestsOnPostgres(PostgresServer server) : RetentionTests(Engine.Postgres, server);

public abstract class RetentionSettingTests(TestClinic clinic)
{
    /// <summary>42 CFR 493.1105: slides and reports 10 years (second-hand, paragraphs from memory), blocks 2 years.</summary>
    [Fact]
    public async Task Where_nothing_is_set_the_federal_minima_hold() =>
        (await clinic.Surgeon.GetAsync("/api/clinic")).Expect(200).At("retention").ShouldBeJson("""{ "slideYears": 10, "blockYears": 2, "recordYears": 10 }""");

    [Theory]
    [InlineData("slideYears", 0)]
    [InlineData("blockYears", 101)]
    [InlineData("recordYears", -1)]
    public async Task Years_out_of_range_are_refused_by_their_field(string field, int years) =>
        (await clinic.Administrator.PostAsync("/api/clinic", new JsonObject { ["retention"] = new JsonObject { [field] = years } })).ExpectProblem(400, $"retention.{field}");

    [Fact]
    public async Task Administrator_and_manager_are_warned_and_nobody_else()
    {
        (await clinic.Administrator.GetAsync("/api/clinic/retention")).Expect(200);
        (await clinic.Manager.GetAsync("/api/clinic/retention")).Expect(200);
        (await clinic.Surgeon.GetAsync("/api/clinic/retention")).ExpectProblem(403);
        (await clinic.Histotech.GetAsync("/api/clinic/retention")).ExpectProblem(403);
    }
}

[Collection<OnSqlite>]
public sealed class RetentionSettingTestsOnSqlite(SqliteClinic clinic) : RetentionSettingTests(clinic);

[Collection<OnPostgres>]
public sealed class RetentionSettingTestsOnPostgres(PostgresClinic clinic) : RetentionSettingTests(clinic);
