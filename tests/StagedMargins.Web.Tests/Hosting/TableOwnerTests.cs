using Npgsql;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Hosting;

/// <summary>On PostgreSQL the service may work as an account that owns no table, so that it can't undo what keeps the record as it is.</summary>
public sealed class TableOwnerTests(PostgresServer server) : IAsyncLifetime
{
    private const string Secret = "a secret of the tests";

    private readonly string owner = $"owner_{Guid.NewGuid():N}";
    private readonly string worker = $"worker_{Guid.NewGuid():N}";
    private TestDatabase database = null!;

    public async ValueTask InitializeAsync()
    {
        database = await TestDatabase.EmptyAsync(Engine.Postgres, server);
        var name = new NpgsqlConnectionStringBuilder(database.Connection).Database;
        await database.ExecuteAsync($"CREATE ROLE {owner} LOGIN PASSWORD '{Secret}'; CREATE ROLE {worker} LOGIN PASSWORD '{Secret}'; ALTER DATABASE {name} OWNER TO {owner}; ALTER SCHEMA public OWNER TO {owner}");
    }

    public async ValueTask DisposeAsync()
    {
        NpgsqlConnection.ClearAllPools();
        await database.DisposeAsync();
        await using var left = await TestDatabase.EmptyAsync(Engine.Postgres, server);
        await left.ExecuteAsync($"DROP ROLE {worker}; DROP ROLE {owner}");
    }

    [Fact]
    public async Task A_service_that_owns_no_table_works_and_cannot_change_what_is_written()
    {
        await using (var service = ServiceHost.Start(Settings(worker)))
        {
            var administrator = await TestClinic.FoundAsync(service, "head@clinic.invalid", "Clinic of the tests");
            var surgeon = await TestClinic.AddAsync(administrator, service.Stranger(), TestClinic.SurgeonEmail, "surgeon");
            var id = await surgeon.OpenWithLayerAsync();
            (await surgeon.ReadAsync(id, 1, "A", Some.Clear())).Expect(201);
            (await surgeon.GetAsync($"/api/cases/{id}/history")).Expect(200).At("chain.intact")!.GetValue<bool>().ShouldBeTrue();
        }

        foreach (var sql in (string[])
            [
                "UPDATE ledger_entries SET body = NULL", "DELETE FROM ledger_entries", "TRUNCATE ledger_entries CASCADE", "DELETE FROM access_log",
                "ALTER TABLE ledger_entries DISABLE TRIGGER USER", "SET session_replication_role = replica", "DROP TABLE ledger_entries", "DROP FUNCTION written_once() CASCADE",
                "DELETE FROM \"__EFMigrationsHistory\"",
            ])
        {
            var refused = await Should.ThrowAsync<PostgresException>(() => AsAsync(worker, sql), sql);
            refused.SqlState.ShouldBe(PostgresErrorCodes.InsufficientPrivilege, sql);
        }
    }

    [Fact]
    public async Task An_account_that_may_act_as_the_owner_is_refused_at_the_start()
    {
        await database.ExecuteAsync($"GRANT {owner} TO {worker}");
        await FailsAsync(Settings(worker), "owns nothing");
    }

    [Fact]
    public async Task The_owner_itself_is_refused_as_the_account_to_work_as() => await FailsAsync(Settings(owner), "same account");

    private async Task FailsAsync(Dictionary<string, string> settings, string said)
    {
        await using var program = new Installation(settings);
        var result = await program.FailToStartAsync();
        result.Code.ShouldBe(1);
        result.Errors.Trim().Split('\n').ShouldHaveSingleItem().ShouldContain(said);
        result.Errors.ShouldNotContain(Secret);
    }

    private Dictionary<string, string> Settings(string worksAs)
    {
        return new Dictionary<string, string>(database.Settings)
        {
            ["ConnectionStrings:Default"] = As(worksAs),
            ["ConnectionStrings:Migration"] = As(owner),
        };
    }

    private async Task AsAsync(string account, string sql)
    {
        await using var connection = new NpgsqlConnection(As(account));
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        await command.ExecuteNonQueryAsync();
    }

    private string As(string account) => new NpgsqlConnectionStringBuilder(database.Connection) { Username = account, Password = Secret, Pooling = false }.ToString();
}
