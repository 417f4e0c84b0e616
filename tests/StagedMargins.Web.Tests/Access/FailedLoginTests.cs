using System.Globalization;
using System.Text.Json.Nodes;
using StagedMargins.Web.Identity;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>
/// Each test has a service of its own, for it uses up what its network address may do. What is counted is counted in the process, so one
/// database is enough.
/// </summary>
public sealed class FailedLoginTests(PostgresServer server)
{
    private const string Administrator = "a@clinic.invalid";

    [Fact]
    public async Task Held_back_tries_are_told_how_long_to_wait()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database);
        for (var attempt = 1; attempt <= FailedLogins.MostOfAddress; attempt++)
        {
            (await LoginAsync(host.Stranger(), "nobody@clinic.invalid", "wrong")).ExpectProblem(401).Header("Retry-After").ShouldBeNull();
        }

        var held = (await LoginAsync(host.Stranger(), "nobody@clinic.invalid", "wrong")).ExpectProblem(429);
        int.Parse(held.Header("Retry-After")!, CultureInfo.InvariantCulture).ShouldBeInRange(1, (int)FailedLogins.Window.TotalSeconds);
    }

    [Fact]
    public async Task A_burst_of_guesses_for_one_address_does_not_outrun_the_count()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database);
        await TestClinic.FoundAsync(host, Administrator, "Clinic of guesses");
        var replies = await Task.WhenAll(Enumerable.Range(0, 60).Select(i => LoginAsync(host.Stranger(), Administrator, $"guess number {i}")));
        replies.Count(reply => reply.Status == 401).ShouldBeInRange(FailedLogins.MostOfAddress, FailedLogins.MostOfAddress + 3);
        replies.Where(reply => reply.Status != 401).ShouldAllBe(reply => reply.Status == 429);
    }

    [Fact]
    public async Task Guessing_over_many_addresses_holds_the_network_back()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database);
        await TestClinic.FoundAsync(host, Administrator, "Clinic of guesses");
        var one = host.Stranger();
        for (var attempt = 1; attempt <= FailedLogins.MostOfNetwork; attempt++)
        {
            (await one.PostAsync("/api/auth/set-password", new JsonObject { ["email"] = $"n{attempt}@clinic.invalid", ["code"] = "x", ["password"] = "y" })).ExpectProblem(401);
        }

        (await LoginAsync(one, Administrator, TestClinic.Password)).ExpectProblem(429).Header("Retry-After").ShouldNotBeNull();
        (await one.PostAsync("/api/auth/first-administrator", new JsonObject())).ExpectProblem(429);
        (await one.PostAsync("/api/auth/passkeys/sign-in", new JsonObject())).ExpectProblem(429);
    }

    [Fact]
    public async Task Right_sign_ins_are_never_counted_however_many_come_at_once()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using var host = ServiceHost.Start(database);
        await TestClinic.FoundAsync(host, Administrator, "Clinic of scripts");
        for (var round = 0; round < 3; round++)
        {
            var replies = await Task.WhenAll(Enumerable.Range(0, 40).Select(_ => LoginAsync(host.Stranger(), Administrator, TestClinic.Password)));
            replies.ShouldAllBe(reply => reply.Status == 200);
        }
    }

    [Fact]
    public async Task A_known_proxy_says_whose_network_it_is_and_nobody_else_does()
    {
        await using var database = await server.Templates.MigratedAsync(Engine.Sqlite);
        await using (var host = ServiceHost.Start(database, null, ("Proxy:KnownProxies", "127.0.0.1, ::1")))
        {
            await GuessAsync(host, "203.0.113.7");
            (await GuessOnceAsync(host, "203.0.113.7")).ExpectProblem(429);
            (await GuessOnceAsync(host, "203.0.113.8")).ExpectProblem(401);
        }

        await using (var host = ServiceHost.Start(database))
        {
            await GuessAsync(host, "203.0.113.7");
            (await GuessOnceAsync(host, "203.0.113.8")).ExpectProblem(429);
        }
    }

    private static async Task GuessAsync(ServiceHost host, string from)
    {
        for (var attempt = 1; attempt <= FailedLogins.MostOfNetwork; attempt++)
        {
            (await GuessOnceAsync(host, from)).ExpectProblem(401);
        }
    }

    private static Task<Reply> GuessOnceAsync(ServiceHost host, string from) => host.Stranger().PostAsync(
        "/api/auth/set-password",
        new JsonObject { ["email"] = $"n{Guid.NewGuid():N}@clinic.invalid", ["code"] = "x", ["password"] = "y" },
        ("X-Forwarded-For", from));

    private static Task<Reply> LoginAsync(Caller who, string email, string password) =>
        who.PostAsync("/api/auth/login", new JsonObject { ["email"] = email, ["password"] = password });
}
