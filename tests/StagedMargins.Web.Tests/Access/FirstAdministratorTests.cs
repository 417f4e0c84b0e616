using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Tests.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace StagedMargins.Web.Tests.Access;

public abstract partial class FirstAdministratorTests(TestClinic clinic, PostgresServer server)
{
    [Fact]
    public async Task An_empty_record_prints_one_code_at_each_start_until_it_was_used()
    {
        await using var database = await TestDatabase.EmptyAsync(clinic.Engine, server);
        string first, second;
        await using (var run = ServiceHost.Start(database))
        {
            first = CodesIn(run.Said).ShouldHaveSingleItem();
        }

        await using (var run = ServiceHost.Start(database))
        {
            second = CodesIn(run.Said).ShouldHaveSingleItem();
            second.ShouldNotBe(first);
            (await MakeAsync(run.Stranger(), first, "a@first.invalid")).ExpectProblem(401);
            (await MakeAsync(run.Stranger(), second, "a@first.invalid")).Expect(201);
            var administrator = await run.Stranger().SignInAsync("a@first.invalid", TestClinic.Password);
            (await administrator.GetAsync("/api/auth/me")).Expect(200).At("roles").ShouldBeJson("""["administrator"]""");
            (await administrator.GetAsync("/api/clinic")).Expect(200).Text("timeZone").ShouldBe(TestClinic.TimeZone);
        }

        (await database.QueryAsync<string>("SELECT hash FROM clinic_codes")).ShouldBeEmpty();
        await using (var run = ServiceHost.Start(database))
        {
            CodesIn(run.Said).ShouldBeEmpty();
            var code = CodesIn(await AddClinicAsync(database)).ShouldHaveSingleItem();
            (await MakeAsync(run.Stranger(), code, "a@second.invalid")).Expect(201);
            var second2 = await run.Stranger().SignInAsync("a@second.invalid", TestClinic.Password);
            (await second2.GetAsync("/api/people")).Expect(200).Json.AsArray().ShouldHaveSingleItem()!["email"]!.GetValue<string>().ShouldBe("a@second.invalid");
        }
    }

    [Fact]
    public async Task A_code_works_once_and_a_refusal_gives_it_back()
    {
        var code = await CodeAsync();
        (await MakeAsync(clinic.Stranger, "wrong-wrong-wrong-wrong", Email())).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:codeNotRight");
        (await PostAsync(Body(code, Email()).Without("email").Without("clinic").With("timeZone", "Nowhere/Land"))).ExpectProblem(400, "email").ExpectProblem(400, "clinic").ExpectProblem(400, "timeZone");
        (await PostAsync(Body(code, Email()).With("password", "password1234"))).ExpectProblem(400, "password");
        (await PostAsync(Body(code, TestClinic.SurgeonEmail))).ExpectProblem(400, "email");
        (await MakeAsync(clinic.Stranger, code, Email())).Expect(201);
        (await MakeAsync(clinic.Stranger, code, Email())).ExpectProblem(401);
    }

    [Fact]
    public async Task Of_many_who_use_a_code_at_once_one_gets_in()
    {
        var code = await CodeAsync();
        var replies = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => MakeAsync(clinic.Stranger, code, Email())));
        replies.Count(reply => reply.Status == 201).ShouldBe(1, string.Join(" ", replies.Select(reply => reply.Status)));
        replies.Where(reply => reply.Status != 201).ShouldAllBe(reply => reply.Status == 401);
    }

    private static string Email() => $"f{Guid.NewGuid():N}@first.invalid";

    private static JsonObject Body(string code, string email) => Some.FirstAdministrator(code, email, "Clinic of a code");

    private static Task<Reply> MakeAsync(Caller who, string code, string email) => who.PostAsync("/api/auth/first-administrator", Body(code, email));

    private static IEnumerable<string> CodesIn(string said) => Code().Matches(said).Select(match => match.Value);

    private Task<Reply> PostAsync(JsonObject body) => clinic.Stranger.PostAsync("/api/auth/first-administrator", body);

    private static async Task<string> AddClinicAsync(TestDatabase database)
    {
        await using var program = new Installation(database.Settings);
        var result = await program.RunAsync("add-clinic");
        result.Code.ShouldBe(0, result.Errors);
        return result.Output;
    }

    private async Task<string> CodeAsync()
    {
        await using var scope = clinic.Host.Services.CreateAsyncScope();
        return await FirstStart.NewCodeAsync(scope.ServiceProvider);
    }

    [GeneratedRegex("(?:[a-km-np-z2-9]{5}-){3}[a-km-np-z2-9]{5}")]
    private static partial Regex Code();
}

[Collection<OnSqlite>]
public sealed class FirstAdministratorTestsOnSqlite(SqliteClinic clinic, PostgresServer server) : FirstAdministratorTests(clinic, server);

[Collection<OnPostgres>]
public sealed class FirstAdministratorTestsOnPostgres(PostgresClinic clinic, PostgresServer server) : FirstAdministratorTests(clinic, server);
