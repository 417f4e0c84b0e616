using System.Diagnostics;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>A record comes back from its backup, in either database, whole or not at all.</summary>
public abstract class RestoreTests(BackedUpClinic place)
{
    [Theory]
    [InlineData(Engine.Sqlite)]
    [InlineData(Engine.Postgres)]
    public async Task A_restored_record_is_the_one_that_was_backed_up_and_goes_on(Engine target)
    {
        await using var empty = await place.EmptyAsync(target);
        var end = await empty.Program.RunAsync("restore", "--from", place.Encrypted, "--key-file", place.KeyFile);
        end.Code.ShouldBe(0, end.Output + end.Errors);
        end.Output.ShouldContain("2 cases checked: all unchanged since they were written.");

        var again = place.PathOf($"again-{target}.zip");
        (await empty.Program.RunAsync("backup", "--to", again)).Code.ShouldBe(0);
        var (before, after) = (await BackedUpClinic.RowsAsync(place.Plain), await BackedUpClinic.RowsAsync(again));
        after.Keys.ShouldBe(before.Keys, ignoreOrder: true);
        foreach (var (table, rows) in before)
        {
            switch (table)
            {
                case "ledger_entries.jsonl":
                    rows.Except(after[table]).ShouldBeEmpty();
                    after[table].Except(rows).Select(row => row.Contains("restoreRecord", StringComparison.Ordinal) ? "restored" : row.Contains("revokeToken", StringComparison.Ordinal) ? "revoked" : row)
                        .ShouldBe(["restored", "revoked"], ignoreOrder: true);
                    break;
                case "ledger_heads.jsonl" or "api_tokens.jsonl":
                    after[table].Length.ShouldBe(rows.Length);
                    break;
                default:
                    after[table].ShouldBe(rows, table);
                    break;
            }
        }

        before["ledger_entries.jsonl"].Length.ShouldBeGreaterThan(4);
        before["AspNetUsers.jsonl"].Length.ShouldBe(6);
        before.ShouldNotContainKey("data_protection_keys.jsonl");
        await GoesOnAsync(empty);
        var verified = await empty.Program.RunAsync("verify", "--expect", place.LaterHead);
        verified.Code.ShouldBe(0, verified.Output + verified.Errors);
        verified.Output.ShouldContain("restoreRecord by StagedMargins");
    }

    [Theory]
    [InlineData(Engine.Sqlite)]
    [InlineData(Engine.Postgres)]
    public async Task A_restore_that_is_killed_leaves_nothing_and_can_be_done_again(Engine target)
    {
        await using var empty = await place.EmptyAsync(target);
        using (var restoring = empty.Program.Begin("restore", "--from", place.Plain))
        {
            while (await restoring.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken) is { } line && !line.StartsWith("ledger_entries:", StringComparison.Ordinal))
            {
                // The rows before those are in the transaction then.
            }

            restoring.Kill();
            await restoring.WaitForExitAsync(TestContext.Current.CancellationToken);
        }

        await UntilGoneAsync(empty);
        var end = await empty.Program.RunAsync("restore", "--from", place.Plain);
        end.Code.ShouldBe(0, end.Output + end.Errors);
    }

    [Theory]
    [InlineData(Engine.Sqlite)]
    [InlineData(Engine.Postgres)]
    public async Task A_place_that_is_not_empty_is_left_as_it_is(Engine target)
    {
        await using var full = await place.EmptyAsync(target);
        await full.Database.ExecuteAsync("CREATE TABLE of_someone (id int)");
        await ExpectRefusedAsync(full, "not empty|Move it and the files beside it away", "--from", place.Plain);
        (await full.Database.QueryAsync<long>("SELECT count(*) FROM of_someone"))[0].ShouldBe(0);
    }

    [Fact]
    public async Task Nothing_is_made_of_a_file_that_is_refused()
    {
        await using var empty = await place.EmptyAsync(place.Source.Engine);
        var (wrongKey, damaged) = (place.PathOf("wrong.key"), place.PathOf("damaged.backup"));
        await File.WriteAllTextAsync(wrongKey, Convert.ToBase64String(new byte[32]), TestContext.Current.CancellationToken);
        var bytes = await File.ReadAllBytesAsync(place.Encrypted, TestContext.Current.CancellationToken);
        bytes[^20] ^= 1;
        await File.WriteAllBytesAsync(damaged, bytes, TestContext.Current.CancellationToken);
        await ExpectRefusedAsync(empty, "can't be opened with this key", "--from", place.Encrypted, "--key-file", wrongKey);
        await ExpectRefusedAsync(empty, "can't be opened with this key", "--from", damaged, "--key-file", place.KeyFile);
        await ExpectRefusedAsync(empty, "is encrypted", "--from", place.Encrypted);
        await ExpectRefusedAsync(empty, "There is no file", "--from", place.PathOf("nowhere"));
        (await empty.IsEmptyAsync()).ShouldBeTrue();
    }

    [Fact]
    public async Task Without_the_history_keys_nothing_is_restored_and_no_others_are_made()
    {
        await using var empty = await place.EmptyAsync(place.Source.Engine);
        var missing = Path.Combine(empty.Program.Folder, "missing.keys");
        await ExpectRefusedAsync(empty, "no history keys", "--from", place.Plain, $"--History:KeyFile={missing}");
        File.Exists(missing).ShouldBeFalse();
        await ExpectRefusedAsync(empty, "sealed with the key", "--from", place.Plain, $"--History:Keys=other:{Convert.ToBase64String(new byte[32])}");
        (await empty.IsEmptyAsync()).ShouldBeTrue();
    }

    private static async Task ExpectRefusedAsync(EmptyInstallation target, string line, params string[] arguments)
    {
        var end = await target.Program.RunAsync(["restore", .. arguments]);
        end.Code.ShouldBe(1, end.Output);
        end.Errors.TrimEnd().ShouldNotContain("\n");
        end.Errors.ShouldMatch(line);
    }

    // What a killed SQLite restore leaves is a file of another name; PostgreSQL undoes it when it notices that the client is gone.
    private static async Task UntilGoneAsync(EmptyInstallation target)
    {
        if (target.Database.Engine == Engine.Sqlite)
        {
            File.Exists(target.Database.Connection["Data Source=".Length..]).ShouldBeFalse();
            return;
        }

        for (var waited = Stopwatch.StartNew(); !await target.IsEmptyAsync();)
        {
            waited.Elapsed.TotalSeconds.ShouldBeLessThan(30);
            await Task.Delay(50, TestContext.Current.CancellationToken);
        }
    }

    private async Task GoesOnAsync(EmptyInstallation restored)
    {
        await restored.Database.ExecuteAsync("INSERT INTO \"AspNetUserClaims\" (user_id, claim_type, claim_value) SELECT id, 'after', 'it' FROM \"AspNetUsers\"");
        await using var service = restored.Program.StartHost();
        (await service.Stranger().With(place.ApiToken).GetAsync("/api/cases")).ExpectProblem(401);
        var surgeon = await service.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
        var replayed = (await surgeon.PostTextAsync("/api/cases", place.Body, BackedUpClinic.Key)).Expect(201);
        replayed.Header("Idempotency-Replayed").ShouldBe("true");
        replayed.Body.ShouldBe(place.Answer.Body);
        (await surgeon.RecordAsync(replayed.Text("id"), Some.WholeLayer())).Expect(201);
        var next = (await surgeon.PostAsync("/api/cases", Some.Case())).Expect(201);
        next.Text("caseNumber").ShouldEndWith("-0003");
        (await surgeon.GetAsync($"/api/cases/{replayed.Text("id")}/history")).At("chain.intact").ShouldBeJson("true");
        Func<Task> change = () => restored.Database.ExecuteAsync("UPDATE ledger_entries SET body = '{}'");
        (await change.ShouldThrowAsync<System.Data.Common.DbException>()).Message.ShouldContain("written once");
    }
}

/// <summary>Backed up from a SQLite file.</summary>
public sealed class RestoreTestsFromSqlite(SqliteBackedUpClinic place) : RestoreTests(place), IClassFixture<SqliteBackedUpClinic>;

/// <summary>Backed up from PostgreSQL.</summary>
public sealed class RestoreTestsFromPostgres(PostgresBackedUpClinic place) : RestoreTests(place), IClassFixture<PostgresBackedUpClinic>;
