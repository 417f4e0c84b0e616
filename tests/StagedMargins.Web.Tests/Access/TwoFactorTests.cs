using System.Security.Cryptography;
using System.Text.Json.Nodes;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Access;

/// <summary>The clock stands still while a test runs, so that a code is of the step that the test means, however slow the machine.</summary>
public abstract class TwoFactorTests(TestClinic clinic) : IAsyncLifetime
{
    private const int Step = 30;
    private readonly SetClock clock = new(TestClock.Now);
    private ServiceHost host = null!;

    private Caller Administrator => host.Stranger().With(clinic.Administrator.Token);

    public ValueTask InitializeAsync()
    {
        host = ServiceHost.Start(clinic.Database, clock);
        return ValueTask.CompletedTask;
    }

    public async ValueTask DisposeAsync()
    {
        await host.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task An_account_with_an_authenticator_asks_for_its_code_and_takes_each_once()
    {
        var (email, key, _) = await EnrolledAsync();
        (await LoginAsync(email)).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:twoFactorRequired");
        (await LoginAsync(email, "twoFactorCode", "")).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:twoFactorRequired");
        (await LoginAsync(email, "twoFactorCode", CodeAt(key, -20))).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:twoFactorWrong");

        // The code of this step was used when the app was confirmed; the next step's is taken too, once.
        (await LoginAsync(email, "twoFactorCode", CodeAt(key, 0))).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:twoFactorWrong");
        var next = CodeAt(key, 1);
        (await LoginAsync(email, "twoFactorCode", $"{next[..3]} {next[3..]}")).Expect(200).Json.Fields().ShouldBe(["tokenType", "accessToken", "expiresIn", "refreshToken"]);
        (await LoginAsync(email, "twoFactorCode", next)).ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:twoFactorWrong");
    }

    [Fact]
    public async Task A_wrong_password_says_nothing_of_a_second_factor()
    {
        var (email, key, _) = await EnrolledAsync();
        var reply = await host.Stranger().PostAsync("/api/auth/login", new JsonObject { ["email"] = email, ["password"] = "not the pass phrase", ["twoFactorCode"] = CodeAt(key, 1) });
        reply.ExpectProblem(401).Text("type").ShouldBe("urn:stagedmargins:problem:notSignedIn");
    }

    [Fact]
    public async Task Each_recovery_code_lets_in_once_and_new_ones_replace_the_old()
    {
        var (email, _, codes) = await EnrolledAsync();
        codes.Count.ShouldBe(10);
        codes.Distinct().Count().ShouldBe(10);
        var own = host.Stranger().With((await LoginAsync(email, "recoveryCode", codes[0])).Expect(200).Text("accessToken"));
        (await LoginAsync(email, "recoveryCode", codes[0])).ExpectProblem(401);
        (await LoginAsync(email, "recoveryCode", "AAAAA-AAAAA")).ExpectProblem(401);
        (await own.GetAsync("/api/auth/me")).Expect(200).Number("recoveryCodesLeft").ShouldBe(9);
        (await own.PostAsync("/api/auth/two-factor/recovery-codes", new JsonObject())).ExpectProblem(400, "password");
        var renewed = (await own.PostAsync("/api/auth/two-factor/recovery-codes", Password())).Expect(200).At("recoveryCodes")!.AsArray();
        (await LoginAsync(email, "recoveryCode", codes[1])).ExpectProblem(401);
        (await LoginAsync(email, "recoveryCode", renewed[0]!.GetValue<string>().ToLowerInvariant())).Expect(200);
    }

    [Fact]
    public async Task Guessing_codes_ends_like_guessing_passwords()
    {
        var (email, key, _) = await EnrolledAsync();
        for (var attempt = 1; attempt <= 10; attempt++)
        {
            (await LoginAsync(email, "twoFactorCode", CodeAt(key, -100 - attempt))).ExpectProblem(401);
        }

        (await LoginAsync(email, "twoFactorCode", CodeAt(key, 1))).ExpectProblem(429);
    }

    [Fact]
    public async Task Nothing_is_asked_for_until_a_first_code_confirms_the_app_and_turning_it_off_wants_the_password()
    {
        var email = NewEmail();
        var own = await TestClinic.AddAsync(Administrator, host.Stranger(), email, "surgeon");
        (await own.PostAsync("/api/auth/two-factor/start", new JsonObject())).ExpectProblem(400, "password");
        var key = Key((await own.PostAsync("/api/auth/two-factor/start", Password())).Expect(200));
        (await LoginAsync(email)).Expect(200);
        (await own.PostAsync("/api/auth/two-factor/confirm", new JsonObject { ["code"] = CodeAt(key, -20) })).ExpectProblem(400, "code");
        (await LoginAsync(email)).Expect(200);
        (await own.PostAsync("/api/auth/two-factor/confirm", new JsonObject { ["code"] = CodeAt(key, 0) })).Expect(200);
        (await own.GetAsync("/api/cases")).ExpectProblem(401);
        var again = host.Stranger().With((await LoginAsync(email, "twoFactorCode", CodeAt(key, 1))).Expect(200).Text("accessToken"));
        (await again.PostAsync("/api/auth/two-factor/start", Password())).ExpectProblem(409);
        (await again.PostAsync("/api/auth/two-factor/off", new JsonObject { ["password"] = "not the pass phrase" })).ExpectProblem(400, "password");
        (await again.PostAsync("/api/auth/two-factor/off", Password())).Expect(204);
        (await LoginAsync(email)).Expect(200);
    }

    [Fact]
    public async Task The_key_is_given_in_the_form_that_apps_read()
    {
        var own = await TestClinic.AddAsync(Administrator, host.Stranger(), NewEmail(), "manager");
        var reply = (await own.PostAsync("/api/auth/two-factor/start", Password())).Expect(200);
        var uri = new Uri(reply.Text("otpauthUri"));
        (uri.Scheme, uri.Host).ShouldBe(("otpauth", "totp"));
        uri.Query.ShouldContain($"secret={reply.Text("sharedKey")}");
        uri.Query.ShouldContain("digits=6");
        uri.Query.ShouldContain("period=30");
        reply.Text("sharedKey").Length.ShouldBe(32);
    }

    [Fact]
    public async Task The_administrator_takes_a_lost_second_factor_away()
    {
        var (email, _, _) = await EnrolledAsync();
        var id = await Administrator.PersonIdAsync(email);
        (await Administrator.PostAsync($"/api/people/{id}/second-factor/reset", null)).Expect(200).At("twoFactor").ShouldBeJson("false");
        (await LoginAsync(email)).Expect(200);
    }

    private static string NewEmail() => $"t{Guid.NewGuid():N}@clinic.invalid";

    private static JsonObject Password() => new() { ["password"] = TestClinic.Password };

    private static byte[] Key(Reply start)
    {
        var bits = string.Concat(start.Text("sharedKey").Select(c => Convert.ToString("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".IndexOf(c, StringComparison.Ordinal), 2).PadLeft(5, '0')));
        return [.. bits.Chunk(8).Where(chunk => chunk.Length == 8).Select(chunk => Convert.ToByte(new string(chunk), 2))];
    }

    // Written apart from the program, after RFC 4226 section 5.3.
    private string CodeAt(byte[] key, int stepsAway)
    {
        var step = (clock.GetUtcNow().ToUnixTimeSeconds() / Step) + stepsAway;
        var counter = BitConverter.GetBytes(step);
        Array.Reverse(counter);
#pragma warning disable CA5350 // The standard's own.
        var hash = HMACSHA1.HashData(key, counter);
#pragma warning restore CA5350
        var at = hash[19] & 15;
        var number = ((hash[at] & 127) << 24) | (hash[at + 1] << 16) | (hash[at + 2] << 8) | hash[at + 3];
        return $"{number % 1_000_000:000000}";
    }

    private async Task<(string Email, byte[] Key, List<string> Recovery)> EnrolledAsync()
    {
        var email = NewEmail();
        var own = await TestClinic.AddAsync(Administrator, host.Stranger(), email, "surgeon");
        var key = Key((await own.PostAsync("/api/auth/two-factor/start", Password())).Expect(200));
        var confirmed = (await own.PostAsync("/api/auth/two-factor/confirm", new JsonObject { ["code"] = CodeAt(key, 0) })).Expect(200);
        return (email, key, [.. confirmed.At("recoveryCodes")!.AsArray().Select(code => code!.GetValue<string>())]);
    }

    private Task<Reply> LoginAsync(string email, string? field = null, string? value = null)
    {
        var body = new JsonObject { ["email"] = email, ["password"] = TestClinic.Password };
        if (field is not null)
        {
            body[field] = value;
        }

        return host.Stranger().PostAsync("/api/auth/login", body);
    }
}

[Collection<OnSqlite>]
public sealed class TwoFactorTestsOnSqlite(SqliteClinic clinic) : TwoFactorTests(clinic);

[Collection<OnPostgres>]
public sealed class TwoFactorTestsOnPostgres(PostgresClinic clinic) : TwoFactorTests(clinic);
