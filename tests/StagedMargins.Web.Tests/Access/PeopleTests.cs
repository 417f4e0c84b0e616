using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

public abstract class PeopleTests(TestClinic clinic)
{
    private Caller Administrator => clinic.Administrator;

    [Fact]
    public async Task A_person_sets_the_first_password_with_a_code_that_works_once()
    {
        var email = NewEmail();
        var added = (await Administrator.PostAsync("/api/people", Some.Person(email, "surgeon", "manager"))).Expect(201);
        added.Json.Fields().ShouldBe(["person", "code", "until"]);
        added.At("person.roles").ShouldBeJson("""["manager", "surgeon"]""");
        (await LoginAsync(email, "")).ExpectProblem(401);
        (await SetAsync(email, "aaaaa-aaaaa-aaaaa-aaaaa", TestClinic.Password)).ExpectProblem(401);
        (await SetAsync(NewEmail(), added.Text("code"), TestClinic.Password)).ExpectProblem(401);
        (await SetAsync(email, added.Text("code"), "password1234")).ExpectProblem(400, "password");
        (await SetAsync(email, added.Text("code").ToUpperInvariant().Replace("-", " ", StringComparison.Ordinal), TestClinic.Password)).Expect(204);
        (await LoginAsync(email, TestClinic.Password)).Expect(200);
        (await SetAsync(email, added.Text("code"), "some other long phrase")).ExpectProblem(401);
    }

    [Fact]
    public async Task No_answer_about_people_holds_a_password_and_none_is_taken_from_the_administrator()
    {
        (await Administrator.PostAsync("/api/people", Some.Person(NewEmail(), "manager").With("password", TestClinic.Password))).ExpectProblem(400, "password");
        var people = (await Administrator.GetAsync("/api/people")).Expect(200);
        people.Json.AsArray().ShouldAllBe(person => person!.Fields().SequenceEqual(new[] { "id", "email", "name", "roles", "disabled", "twoFactor" }));
    }

    [Fact]
    public async Task A_password_taken_away_no_longer_works_and_its_code_gives_another()
    {
        var (email, id) = await NewAsync("manager");
        var code = (await Administrator.PostAsync($"/api/people/{id}/password-code", null)).Expect(200).Text("code");
        var newer = (await Administrator.PostAsync($"/api/people/{id}/password-code", null)).Expect(200).Text("code");
        (await LoginAsync(email, TestClinic.Password)).ExpectProblem(401);
        (await SetAsync(email, code, "some other long phrase")).ExpectProblem(401);
        (await SetAsync(email, newer, "some other long phrase")).Expect(204);
        (await LoginAsync(email, "some other long phrase")).Expect(200);
    }

    [Fact]
    public async Task A_closed_account_lets_nobody_in_until_it_is_opened_again()
    {
        var (email, id) = await NewAsync("surgeon");
        var code = (await Administrator.PostAsync($"/api/people/{id}/password-code", null)).Expect(200).Text("code");
        (await Administrator.PostAsync($"/api/people/{id}/disable", null)).Expect(200).At("disabled").ShouldBeJson("true");
        (await SetAsync(email, code, TestClinic.Password)).ExpectProblem(401);
        (await Administrator.PostAsync($"/api/people/{id}/enable", null)).Expect(200).At("disabled").ShouldBeJson("false");
        (await LoginAsync(email, TestClinic.Password)).ExpectProblem(401);
        var next = (await Administrator.PostAsync($"/api/people/{id}/password-code", null)).Expect(200).Text("code");
        (await SetAsync(email, next, TestClinic.Password)).Expect(204);
        (await LoginAsync(email, TestClinic.Password)).Expect(200);
    }

    [Fact]
    public async Task A_surgeon_with_a_closed_account_is_named_as_nobodys_reader_and_keeps_what_they_did()
    {
        var (email, id) = await NewAsync("surgeon");
        var surgeon = await clinic.Stranger.SignInAsync(email, TestClinic.Password);
        var caseId = await surgeon.OpenWithLayerAsync();
        (await Administrator.PostAsync($"/api/people/{id}/disable", null)).Expect(200);
        (await clinic.Histotech.ReadAsync(caseId, 1, "A", Some.Clear().With("readerEmail", email))).ExpectProblem(400, "readerEmail");
        (await clinic.Surgeon.GetAsync($"/api/cases/{caseId}/history")).Expect(200).Text("entries[0].by").ShouldBe(email);
    }

    [Fact]
    public async Task A_clinic_always_keeps_an_administrator()
    {
        var other = await OtherClinic.AdministratorAsync(clinic);
        var people = (await other.GetAsync("/api/people")).Expect(200).Json.AsArray();
        var id = people.Single()!["id"]!.GetValue<string>();
        (await other.PostAsync($"/api/people/{id}/disable", null)).ExpectProblem(409);
        (await other.PostAsync($"/api/people/{id}/roles", new JsonObject { ["roles"] = new JsonArray("surgeon") })).ExpectProblem(409);
        (await other.GetAsync("/api/people")).Expect(200).Json.ShouldBeJson(people.ToJsonString());
        var second = $"a{Guid.NewGuid():N}@other.invalid";
        var next = await TestClinic.AddAsync(other, clinic.Stranger, second, "administrator");
        (await next.PostAsync($"/api/people/{id}/disable", null)).Expect(200);
        (await other.GetAsync("/api/people")).ExpectProblem(401);
    }

    [Fact]
    public async Task Two_administrators_who_close_each_others_account_at_once_leave_one()
    {
        var first = await OtherClinic.AdministratorAsync(clinic);
        var email = $"a{Guid.NewGuid():N}@other.invalid";
        var second = await TestClinic.AddAsync(first, clinic.Stranger, email, "administrator");
        var people = (await first.GetAsync("/api/people")).Expect(200).Json.AsArray();
        var ids = people.ToDictionary(person => person!["email"]!.GetValue<string>() == email, person => person!["id"]!.GetValue<string>());
        var replies = await Task.WhenAll(first.PostAsync($"/api/people/{ids[true]}/disable", null), second.PostAsync($"/api/people/{ids[false]}/disable", null));
        replies.Count(reply => reply.Status == 200).ShouldBe(1, string.Join(" ", replies.Select(reply => reply.Status)));
    }

    [Fact]
    public async Task One_changes_ones_own_password_by_the_present_one()
    {
        var (email, _) = await NewAsync("manager");
        var own = await clinic.Stranger.SignInAsync(email, TestClinic.Password);
        (await ChangeAsync(own, "not the pass phrase", "some other long phrase")).ExpectProblem(400, "password");
        (await ChangeAsync(own, TestClinic.Password, "short")).ExpectProblem(400, "newPassword");
        (await ChangeAsync(own, TestClinic.Password, TestClinic.Password)).ExpectProblem(400, "newPassword");
        (await ChangeAsync(own, TestClinic.Password, $"{email.Split('@')[0]}12")).ExpectProblem(400, "newPassword");
        (await own.GetAsync("/api/auth/me")).Expect(200).Text("email").ShouldBe(email);
        (await ChangeAsync(own, TestClinic.Password, "some other long phrase")).Expect(204);
        (await LoginAsync(email, "some other long phrase")).Expect(200);
    }

    private static string NewEmail() => $"n{Guid.NewGuid():N}@clinic.invalid";

    private static Task<Reply> ChangeAsync(Caller own, string password, string newPassword) =>
        own.PostAsync("/api/auth/password", new JsonObject { ["password"] = password, ["newPassword"] = newPassword });

    private async Task<(string Email, string Id)> NewAsync(string role)
    {
        var email = NewEmail();
        await clinic.AddAsync(email, role);
        return (email, await clinic.PersonIdAsync(email));
    }

    private Task<Reply> SetAsync(string email, string code, string password) =>
        clinic.Stranger.PostAsync("/api/auth/set-password", new JsonObject { ["email"] = email, ["code"] = code, ["password"] = password });

    private Task<Reply> LoginAsync(string email, string password) =>
        clinic.Stranger.PostAsync("/api/auth/login", new JsonObject { ["email"] = email, ["password"] = password });
}

[Collection<OnSqlite>]
public sealed class PeopleTestsOnSqlite(SqliteClinic clinic) : PeopleTests(clinic);

[Collection<OnPostgres>]
public sealed class PeopleTestsOnPostgres(PostgresClinic clinic) : PeopleTests(clinic);
