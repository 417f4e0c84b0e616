using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using StagedMargins.Core;
using StagedMargins.Core.Entries;
using StagedMargins.Storage.Ledger;
using StagedMargins.Web.Hosting;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Features.History;

/// <summary>A record with a few cases, from which each test takes a copy to tamper with; and the same record some entries earlier.</summary>
public abstract class RecordToTamperWith(Engine engine, PostgresServer server) : IAsyncLifetime
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("margins-keys-");
    private TestDatabase now = null!;
    private TestDatabase earlier = null!;

    /// <summary>The case that is tampered with; it is not the last that was written.</summary>
    public string CaseId { get; private set; } = "";

    /// <summary>The head of the record as verify prints it.</summary>
    public string Head { get; private set; } = "";

    /// <summary>A file with the keys.</summary>
    public string KeyFile => Path.Combine(folder.FullName, "history.keys");

    /// <summary>The keys.</summary>
    public LedgerKeys Keys => LedgerKeys.Parse(now.Settings["History:Keys"]);

    public async ValueTask InitializeAsync()
    {
        now = await (await server.Templates.ClinicAsync(engine)).Database.CopyAsync(server);
        await File.WriteAllTextAsync(KeyFile, now.Settings["History:Keys"]);
        await ServeAsync(async caller => CaseId = await caller(TestClinic.SurgeonEmail).OpenClearAsync());
        earlier = await now.CopyAsync(server);
        await ServeAsync(async caller =>
        {
            var surgeon = caller(TestClinic.SurgeonEmail);
            (await surgeon.EndAsync(CaseId, Some.EndCleared())).Expect(200);
            await surgeon.OpenWithLayerAsync();
            (await surgeon.CaseAsync(CaseId)).Expect(200);
            (await surgeon.GetAsync($"/api/cases/{CaseId}/openings")).Expect(200).At("items")!.AsArray().Count.ShouldBe(1);
            (await caller(TestClinic.ManagerEmail).PostAsync("/api/audit/months/2025-08/close", null)).Expect(200);
            var administrator = caller(TestClinic.AdministratorEmail);
            (await administrator.PostAsync("/api/tokens", Some.Json("""{ "name": "Laboratory", "roles": ["histotech"] }"""))).Expect(201);
            (await administrator.PostAsync("/api/clinic", Some.Json("""{ "overlapMinutes": 20 }"""))).Expect(200);
        });
        await using var copy = await CopyAsync();
        var intact = await copy.Program.RunAsync("verify");
        intact.Code.ShouldBe(0, intact.Output + intact.Errors);
        Head = intact.Output.Split('\n').Single(line => line.Contains("/record/", StringComparison.Ordinal) && line.EndsWith(" intact", StringComparison.Ordinal))[..^" intact".Length];
    }

    /// <summary>A copy of the record, or of the earlier one, with the program on it.</summary>
    public async Task<TamperedRecord> CopyAsync(bool ofEarlier = false)
    {
        var copy = await (ofEarlier ? earlier : now).CopyAsync(server);
        return new TamperedRecord(copy, new Installation(new Dictionary<string, string>(copy.Settings) { ["History:KeyFile"] = KeyFile }));
    }

    private async Task ServeAsync(Func<Func<string, Caller>, Task> play)
    {
        var tokens = (await server.Templates.ClinicAsync(engine)).Tokens;
        await using (var host = ServiceHost.Start(now))
        {
            await play(email => host.Stranger().With(tokens[email]));
        }

        await now.CloseAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await now.DisposeAsync();
        await earlier.DisposeAsync();
        folder.Delete(recursive: true);
        GC.SuppressFinalize(this);
    }
}

/// <summary>A copy of a record and the program on it.</summary>
public sealed record TamperedRecord(TestDatabase Database, Installation Program) : IAsyncDisposable
{
    public async ValueTask DisposeAsync()
    {
        await Program.DisposeAsync();
        await Database.DisposeAsync();
    }
}

public abstract class VerifyTests(RecordToTamperWith record)
{
    private const string OtherColumns = "clinic_id, stream, epoch, subject_kind, subject_id, kind, form, request_id, at, at_offset, by_id, by_name, origin, body, previous_hash, key_id, hash";

    [Theory]
    [InlineData("a row changed", "UPDATE ledger_entries SET body = replace(body, 'clear', 'unreadable') WHERE kind = 'recordReading'", "was changed after it was written")]
    [InlineData("a row moved", "UPDATE ledger_entries SET subject_number = 77 WHERE kind = 'endCase'", "was changed after it was written")]
    [InlineData("a row moved in the stream", "UPDATE ledger_entries SET number = 77 WHERE kind = 'endCase'", "An entry is missing")]
    [InlineData("a row removed", "DELETE FROM ledger_entries WHERE kind = 'endCase'", "An entry is missing")]
    [InlineData("an author renamed", "UPDATE ledger_entries SET by_name = 'Another <another@clinic.invalid>' WHERE kind = 'endCase'", "was changed after it was written")]
    [InlineData("a time changed", "UPDATE ledger_entries SET at_offset = 0 WHERE kind = 'endCase'", "was changed after it was written")]
    [InlineData("another request", "UPDATE ledger_entries SET request_id = by_id WHERE kind = 'endCase'", "was changed after it was written")]
    [InlineData("a case put back to an earlier day", "DELETE FROM ledger_entries WHERE subject_id = {case} AND subject_number > 2", "An entry is missing")]
    [InlineData("a whole case removed", "DELETE FROM ledger_entries WHERE subject_id = {case}; DELETE FROM audit_stages; DELETE FROM audit_cases; DELETE FROM cases WHERE case_id = {case}", "An entry is missing")]
    [InlineData("the end cut off", "DELETE FROM ledger_entries WHERE number = (SELECT max(number) FROM ledger_entries)", "does not end where it was last sealed")]
    [InlineData("a seal of another key", "UPDATE ledger_entries SET hash = previous_hash WHERE number = (SELECT max(number) FROM ledger_entries)", "was changed after it was written")]
    [InlineData("an unknown key", "UPDATE ledger_entries SET key_id = 'other' WHERE kind = 'endCase'", "The key that sealed this entry is unknown here")]
    public async Task Each_way_to_tamper_with_entries_is_found(string way, string sql, string found)
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.WithoutTriggersAsync("ledger_entries", sql.Replace("{case}", copy.Database.Literal(record.CaseId), StringComparison.Ordinal));
        await FoundAsync(copy, found, way);
    }

    [Theory]
    [InlineData("UPDATE ledger_heads SET number = number - 1", "does not end where it was last sealed")]
    [InlineData("DELETE FROM ledger_heads", "does not end where it was last sealed")]
    [InlineData("UPDATE ledger_heads SET hash = (SELECT previous_hash FROM ledger_entries WHERE kind = 'endCase')", "does not end where it was last sealed")]
    [InlineData("UPDATE cases SET state = 'noTissue'", "does not match its entries")]
    [InlineData("DELETE FROM audit_stages", "its summary does not match its record")]
    public async Task A_head_or_a_computed_row_that_differs_is_found(string sql, string found)
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.ExecuteAsync(sql);
        await FoundAsync(copy, found, sql);
    }

    [Theory]
    [InlineData("an author's address exchanged", "UPDATE \"AspNetUsers\" SET email = 'other-' || email, normalized_email = 'OTHER-' || normalized_email, user_name = 'other-' || user_name, normalized_user_name = 'OTHER-' || normalized_user_name WHERE email = 'm.ashgrove@clinic.invalid'", "Name or address is another than its entries say")]
    [InlineData("someone found at sign-in by another's address", "UPDATE \"AspNetUsers\" SET normalized_email = 'X' || normalized_email WHERE email = 'm.ashgrove@clinic.invalid'", "Name or address is another than its entries say")]
    [InlineData("a name changed", "UPDATE \"AspNetUsers\" SET display_name = 'Another' WHERE email = 'm.ashgrove@clinic.invalid'", "Name or address is another than its entries say")]
    [InlineData("a password written by SQL", "UPDATE \"AspNetUsers\" SET password_hash = (SELECT password_hash FROM \"AspNetUsers\" WHERE email = 'm.ashgrove@clinic.invalid') WHERE email = 'r.tidewell@clinic.invalid'", "A credential (Password) was set past the program")]
    [InlineData("a one-time code written by SQL", "UPDATE \"AspNetUsers\" SET password_code_hash = 'aa' WHERE email = 'r.tidewell@clinic.invalid'", "A credential (PasswordCode) was set past the program")]
    [InlineData("an authenticator written by SQL", "INSERT INTO \"AspNetUserTokens\" (user_id, login_provider, name, value) SELECT id, '[AspNetUserStore]', 'AuthenticatorKey', 'ABC' FROM \"AspNetUsers\" WHERE email = 'r.tidewell@clinic.invalid'", "A credential (Authenticator) was set past the program")]
    [InlineData("a link to the provider written by SQL", "INSERT INTO \"AspNetUserLogins\" (user_id, login_provider, provider_key) SELECT id, 'https://provider.invalid', 'x' FROM \"AspNetUsers\" WHERE email = 'r.tidewell@clinic.invalid'", "A credential (OrganisationSignIn) was set past the program")]
    [InlineData("a password removed", "UPDATE \"AspNetUsers\" SET password_hash = NULL WHERE email = 'r.tidewell@clinic.invalid'", "A credential (Password) was removed past the program")]
    [InlineData("a role given", "INSERT INTO \"AspNetUserRoles\" (user_id, role_id) SELECT u.id, r.id FROM \"AspNetUsers\" u, \"AspNetRoles\" r WHERE u.email = 'l.hollowmere@clinic.invalid' AND r.name = 'surgeon'", "The roles are others than the entries say")]
    [InlineData("an account closed", "UPDATE \"AspNetUsers\" SET is_disabled = (1 = 1) WHERE email = 'r.tidewell@clinic.invalid'", "Whether the account is closed is not what its entries say")]
    [InlineData("a second factor turned on", "UPDATE \"AspNetUsers\" SET two_factor_enabled = (1 = 1) WHERE email = 'r.tidewell@clinic.invalid'", "Whether a second factor is asked for is not what the entries say")]
    [InlineData("settings changed", "UPDATE clinics SET overlap_minutes = 0", "The settings are others than the entries say")]
    [InlineData("a token's roles widened", "UPDATE api_tokens SET role_words = 'histotech surgeon'", "It is not as its entries say")]
    [InlineData("a token's secret exchanged", "UPDATE api_tokens SET hash = 'aa'", "It is not as its entries say")]
    [InlineData("a token removed", "DELETE FROM api_tokens", "It is gone")]
    [InlineData("a patient found under another's number", "UPDATE data_keys SET found_by = wrapped WHERE subject_kind = 'patient'", "The patient is not found as their entry says")]
    [InlineData("a patient put in without an entry", "INSERT INTO data_keys (clinic_id, subject_kind, subject_id, wrapped_by, wrapped, found_by) SELECT clinic_id, 'patient', clinic_id, wrapped_by, wrapped, found_by FROM data_keys WHERE subject_kind = 'patient' LIMIT 1", "The patient is not found as their entry says")]
    public async Task A_change_of_accounts_or_settings_past_the_program_is_found(string way, string sql, string found)
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.ExecuteAsync(sql);
        await FoundAsync(copy, found, way);
    }

    [Fact]
    public async Task Two_surgeons_whose_addresses_were_exchanged_are_found()
    {
        await using var copy = await record.CopyAsync();
        const string Swap = "UPDATE \"AspNetUsers\" SET email = '{0}', user_name = '{0}', normalized_email = upper('{0}'), normalized_user_name = upper('{0}') WHERE email = '{1}'";
        foreach (var (to, from) in ((string, string)[])[("x@clinic.invalid", TestClinic.SurgeonEmail), (TestClinic.SurgeonEmail, TestClinic.OtherSurgeonEmail), (TestClinic.OtherSurgeonEmail, "x@clinic.invalid")])
        {
            await copy.Database.ExecuteAsync(string.Format(System.Globalization.CultureInfo.InvariantCulture, Swap, to, from));
        }

        await FoundAsync(copy, "Name or address is another than its entries say", "exchanged");
    }

    [Theory]
    [InlineData("access_log", "DELETE FROM access_log", "The openings are not those of their entries")]
    [InlineData("access_log", "UPDATE access_log SET by_id = case_id", "The openings are not those of their entries")]
    [InlineData("month_closings", "DELETE FROM month_closings", "Its figures are gone")]
    [InlineData("month_closings", "UPDATE month_closings SET figures = '{}'", "Its figures are not those of its entry")]
    public async Task Openings_or_a_closed_month_that_differ_are_found(string table, string sql, string found)
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.WithoutTriggersAsync(table, sql);
        await FoundAsync(copy, found, sql);
    }

    [Fact]
    public async Task Openings_that_were_emptied_with_their_entries_are_found()
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.WithoutTriggersAsync("access_log", "DELETE FROM access_log");
        await copy.Database.WithoutTriggersAsync("ledger_entries", "DELETE FROM ledger_entries WHERE stream = 'access'");
        await FoundAsync(copy, "does not end where it was last sealed", "emptied");
    }

    [Fact]
    public async Task A_row_that_stands_twice_is_found()
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.ExecuteAsync($"INSERT INTO ledger_entries (number, subject_number, {OtherColumns}) SELECT number + 1, subject_number + 1, {OtherColumns} FROM ledger_entries WHERE stream = 'record' AND number = (SELECT max(number) FROM ledger_entries)");
        await FoundAsync(copy, "does not follow from the one before", "doubled");
    }

    [Fact]
    public async Task An_entry_of_a_kind_that_this_version_does_not_know_stops_the_check_with_its_number()
    {
        await using var copy = await record.CopyAsync();
        await using (var db = copy.Database.NewContext())
        {
            var head = await db.LedgerHeads.IgnoreQueryFilters().SingleAsync(one => one.Stream == LedgerStreams.Record, TestContext.Current.CancellationToken);
            var entry = new LedgerEntry(
                head.ClinicId, head.Stream, head.Epoch, head.Number + 1, new LedgerSubject(EntrySubjects.Case, Guid.Parse(record.CaseId), 99), "foreseeWeather", 1, Guid.NewGuid(),
                ClinicalTime.From(TestClock.Now), new LedgerAuthor(Guid.NewGuid(), "Someone"), null, Encoding.UTF8.GetBytes("{}"));
            var key = Convert.FromBase64String((await File.ReadAllTextAsync(record.KeyFile, TestContext.Current.CancellationToken)).Split(':')[1]);
            var hash = EntrySeal.Compute(entry, head.Hash, record.Keys.CurrentId, key);
            db.Add(LedgerRow.Of(new SealedEntry(entry, head.Hash, record.Keys.CurrentId, hash)));
            (head.Number, head.Hash) = (entry.Number, hash);
            await db.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        await FoundAsync(copy, "does not know entries of the kind foreseeWeather, form 1", "unknown kind");
    }

    [Fact]
    public async Task An_earlier_record_put_back_whole_is_found_by_a_head_or_a_file_of_anchors_alone()
    {
        await using var copy = await record.CopyAsync(ofEarlier: true);
        (await copy.Program.RunAsync("verify")).Code.ShouldBe(0);
        var expected = await copy.Program.RunAsync("verify", "--expect", record.Head);
        (expected.Code, expected.Output.Contains("The record had this entry and has it no longer", StringComparison.Ordinal)).ShouldBe((2, true), expected.Output + expected.Errors);

        var anchors = Path.Combine(copy.Program.Folder, "anchors");
        await File.WriteAllTextAsync(anchors, $"# heads\n2026-03-03T09:10:00Z {record.Head}\n", TestContext.Current.CancellationToken);
        (await copy.Program.RunAsync("verify", "--anchors", anchors)).Code.ShouldBe(2);

        await using var later = await record.CopyAsync();
        var kept = await later.Program.RunAsync("verify", "--expect", record.Head, "--anchors", anchors);
        kept.Code.ShouldBe(0, kept.Output + kept.Errors);
        kept.Output.ShouldContain("2 heads kept elsewhere checked: the record has them all.");
    }

    [Theory]
    [InlineData("--expect", "nonsense", "A head is written CLINIC/STREAM/EPOCH/NUMBER:HASH.")]
    [InlineData("--anchors", "./nowhere", "The file of anchors can't be read")]
    [InlineData("--expected", "x", "verify takes --expect HEAD and --anchors FILE")]
    public async Task What_is_wrong_with_the_check_is_said_in_one_line(string option, string value, string line)
    {
        await using var copy = await record.CopyAsync();
        var end = await copy.Program.RunAsync("verify", option, value);
        end.Code.ShouldBe(1, end.Output);
        end.Errors.TrimEnd().ShouldNotContain("\n");
        end.Errors.ShouldContain(line);
    }

    [Fact]
    public async Task A_wrong_key_under_the_right_name_is_one_line_and_no_list_of_damaged_entries()
    {
        await using var copy = await record.CopyAsync();
        var wrong = Path.Combine(copy.Program.Folder, "wrong.keys");
        await File.WriteAllTextAsync(wrong, LedgerKeys.NewLine(record.Keys.CurrentId), TestContext.Current.CancellationToken);
        foreach (var end in (ProgramResult[])[await copy.Program.RunAsync("verify", $"--History:KeyFile={wrong}"), await copy.Program.FailToStartAsync($"--History:KeyFile={wrong}")])
        {
            end.Code.ShouldBe(1, end.Output);
            end.Errors.TrimEnd().ShouldNotContain("\n");
            end.Errors.ShouldContain("is not the one that this record was sealed with");
        }
    }

    [Fact]
    public async Task A_record_whose_end_differs_takes_no_writes_and_can_be_read()
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.ExecuteAsync("UPDATE ledger_heads SET number = number - 1");
        await using var host = copy.Program.StartHost();
        var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        (await surgeon.GetAsync($"/api/cases/{record.CaseId}")).Expect(200);
        (await surgeon.PostAsync($"/api/cases/{record.CaseId}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))).ExpectProblem(409).Text("type").ShouldEndWith("recordEndDiffers");
        (await surgeon.PostAsync("/api/cases", Some.Case())).ExpectProblem(409);
    }

    [Fact]
    public async Task An_administrator_accepts_with_a_reason_an_end_that_differs_and_work_goes_on()
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.ExecuteAsync("UPDATE ledger_heads SET number = number - 1");
        await using (var host = copy.Program.StartHost())
        {
            var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            var administrator = await host.Stranger().SignInAsync(TestClinic.AdministratorEmail, TestClinic.Password);
            const string Route = "/api/clinic/record-end";
            (await surgeon.PostAsync(Route, Some.Json("""{ "reason": "the disk was exchanged" }"""))).ExpectProblem(403);
            (await administrator.PostAsync(Route, Some.Json("{}"))).ExpectProblem(400);
            var accepted = (await administrator.PostAsync(Route, Some.Json("""{ "reason": "the disk was exchanged" }"""))).Expect(200);
            accepted.Json.AsArray().Select(end => end!["stream"]!.GetValue<string>()).ShouldBe(["record", "access"]);
            (await administrator.PostAsync(Route, Some.Json("""{ "reason": "again" }"""))).ExpectProblem(409).Text("type").ShouldEndWith("recordEndAgrees");
            (await surgeon.PostAsync($"/api/cases/{record.CaseId}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))).Expect(200);
        }

        var verified = await copy.Program.RunAsync("verify");
        verified.Code.ShouldBe(0, verified.Output + verified.Errors);
        verified.Output.ShouldContain("acceptRecordEnd by");
        verified.Output.ShouldContain("the disk was exchanged");
    }

    [Fact]
    public async Task A_copy_of_the_program_that_is_too_old_says_so_and_writes_nothing()
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.ExecuteAsync("UPDATE ledger_heads SET min_writer = 99");
        await using (var host = copy.Program.StartHost())
        {
            var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            (await surgeon.GetAsync($"/api/cases/{record.CaseId}")).Expect(200);
            (await surgeon.PostAsync("/api/cases", Some.Case())).ExpectProblem(409).Text("type").ShouldEndWith("recordNewer");
        }

        await copy.Database.ExecuteAsync("UPDATE ledger_heads SET min_reader = 99");
        foreach (var end in (ProgramResult[])[await copy.Program.RunAsync("verify"), await copy.Program.FailToStartAsync()])
        {
            end.Code.ShouldBe(1, end.Output);
            end.Errors.TrimEnd().ShouldNotContain("\n");
            end.Errors.ShouldContain("A newer version of the program wrote this record");
        }
    }

    [Fact]
    public async Task Every_computed_row_can_be_thrown_away_and_made_again_while_the_service_runs()
    {
        await using var copy = await record.CopyAsync();
        await using var host = copy.Program.StartHost();
        var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var (list, before) = ((await surgeon.GetAsync("/api/cases")).Body, (await surgeon.CaseAsync(record.CaseId)).Body);
        await copy.Database.ExecuteAsync("DELETE FROM audit_stages; DELETE FROM audit_cases; UPDATE cases SET state = 'noTissue', stage_count = 9");
        (await copy.Program.RunAsync("verify")).Code.ShouldBe(2);
        var rebuilt = await copy.Program.RunAsync("rebuild");
        rebuilt.Code.ShouldBe(0, rebuilt.Output + rebuilt.Errors);
        rebuilt.Output.ShouldContain("2 cases looked at: the rows of 2 were made again");
        (await copy.Program.RunAsync("rebuild")).Output.ShouldContain("2 cases looked at: the rows of 0 were made again");
        await copy.Database.ExecuteAsync("DELETE FROM audit_stages; DELETE FROM audit_cases; DELETE FROM cases");
        (await copy.Program.RunAsync("rebuild")).Code.ShouldBe(0);
        var verified = await copy.Program.RunAsync("verify");
        verified.Code.ShouldBe(0, verified.Output + verified.Errors);
        (await surgeon.GetAsync("/api/cases")).Body.ShouldBe(list);
        (await surgeon.CaseAsync(record.CaseId)).Body.ShouldBe(before);
    }

    [Fact]
    public async Task A_fault_that_the_nightly_walk_finds_is_on_the_health_page_and_work_goes_on()
    {
        await using var copy = await record.CopyAsync();
        await using var host = copy.Program.StartHost();
        var nightly = host.Services.GetRequiredService<NightlyCheck>();
        await nightly.RunAsync(TestContext.Current.CancellationToken);
        (await host.Stranger().GetAsync("/health/ready")).Expect(200).Body.ShouldBe("Healthy");
        await copy.Database.WithoutTriggersAsync("ledger_entries", "UPDATE ledger_entries SET at_offset = at_offset + 60 WHERE kind = 'endCase'");
        await nightly.RunAsync(TestContext.Current.CancellationToken);
        (await host.Stranger().GetAsync("/health/ready")).Expect(200).Body.ShouldBe("Degraded");
        var surgeon = await host.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        (await surgeon.PostAsync($"/api/cases/{record.CaseId}/facts", Some.Json("""{ "weightKg": 70, "reason": "weighed" }"""))).Expect(200);
    }

    [Fact]
    public async Task A_record_of_a_newer_version_is_refused_in_one_line()
    {
        await using var copy = await record.CopyAsync();
        await copy.Database.ExecuteAsync("INSERT INTO \"__EFMigrationsHistory\" (migration_id, product_version) VALUES ('20990101000000_Later', '99.0.0')");
        foreach (var end in (ProgramResult[])[await copy.Program.RunAsync("verify"), await copy.Program.FailToStartAsync()])
        {
            end.Code.ShouldBe(1, end.Output);
            end.Errors.TrimEnd().ShouldNotContain("\n");
            end.Errors.ShouldContain("written by a newer version of the program");
        }
    }

    [Fact]
    public async Task The_heads_are_written_to_a_file_outside_the_database()
    {
        await using var copy = await record.CopyAsync();
        var anchors = Path.Combine(copy.Program.Folder, "anchors");
        var settings = new Dictionary<string, string>(copy.Database.Settings) { ["Ledger:AnchorFile"] = anchors };
        await using (var host = ServiceHost.Start(settings))
        {
            for (var waited = 0; !File.Exists(anchors) || (await File.ReadAllTextAsync(anchors, TestContext.Current.CancellationToken)).Length == 0; waited++)
            {
                waited.ShouldBeLessThan(600, "No head was written.");
                await Task.Delay(50, TestContext.Current.CancellationToken);
            }
        }

        (await File.ReadAllLinesAsync(anchors, TestContext.Current.CancellationToken)).Single(line => line.Contains("/record/", StringComparison.Ordinal)).ShouldEndWith($"Z {record.Head}");
    }

    private static async Task FoundAsync(TamperedRecord copy, string found, string way)
    {
        var end = await copy.Program.RunAsync("verify");
        end.Code.ShouldBe(2, way + end.Output + end.Errors);
        end.Output.ShouldContain(found, Case.Sensitive, way);
    }
}

public sealed class SqliteRecord(PostgresServer server) : RecordToTamperWith(Engine.Sqlite, server);

public sealed class PostgresRecord(PostgresServer server) : RecordToTamperWith(Engine.Postgres, server);

public sealed class VerifyTestsOnSqlite(SqliteRecord record) : VerifyTests(record), IClassFixture<SqliteRecord>;

public sealed class VerifyTestsOnPostgres(PostgresRecord record) : VerifyTests(record), IClassFixture<PostgresRecord>;
