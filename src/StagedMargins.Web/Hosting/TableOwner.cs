using Microsoft.EntityFrameworkCore;
using Npgsql;
using StagedMargins.Storage;
using StagedMargins.Storage.Postgres;

namespace StagedMargins.Web.Hosting;

/// <summary>
/// The PostgreSQL account that makes the tables and changes them at a start (<c>ConnectionStrings:Migration</c>), apart from the one
/// that the service works as. What the service works as then can't switch a trigger off, however it is misused.
/// </summary>
internal static class TableOwner
{
    private const string Setting = "Migration";

    // What a table lets the service do: rows that are written once are read and added, nothing else.
    private const string Grants =
        """
        SELECT format('GRANT USAGE ON SCHEMA %I TO %I', current_schema(), @worker)
        UNION ALL
        SELECT format('GRANT %s ON %I TO %I',
          CASE WHEN c.relname = '__EFMigrationsHistory' THEN 'SELECT'
               WHEN EXISTS (SELECT 1 FROM pg_trigger t JOIN pg_proc p ON p.oid = t.tgfoid WHERE t.tgrelid = c.oid AND p.proname = 'written_once') THEN 'SELECT, INSERT'
               ELSE 'SELECT, INSERT, UPDATE, DELETE' END,
          c.relname, @worker)
        FROM pg_class c WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind = 'r'
        """;

    // Who is the owner of a table, or may act as one, may switch its triggers off.
    private const string MayUndo =
        """
        SELECT r.rolsuper OR EXISTS (SELECT 1 FROM pg_class c
          WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind = 'r' AND pg_has_role(r.oid, c.relowner, 'MEMBER'))
        FROM pg_roles r WHERE r.rolname = @worker
        """;

    /// <summary>A context of its own with which tables may be made and changed: the owner's where one is set, else the service's account.</summary>
    /// <param name="services">The services of a scope.</param>
    /// <exception cref="StartFailureException">The owner is set, and is the account that the service works as.</exception>
    internal static ClinicContext Open(IServiceProvider services)
    {
        if (Connection(services) is not { } connection)
        {
            return new ClinicContext(services.GetRequiredService<DbContextOptions<ClinicContext>>());
        }

        if (new NpgsqlConnectionStringBuilder(connection).Username == Worker(services.GetRequiredService<ClinicContext>()))
        {
            throw new StartFailureException("ConnectionStrings:Migration and ConnectionStrings:Default name the same account; the service must use a different account from the one that owns the tables.");
        }

        var options = new DbContextOptionsBuilder<ClinicContext>();
        PostgresDatabase.Use(options, connection);
        return new ClinicContext(options.Options);
    }

    /// <summary>Lets the account that the service works as read and add, and change only what is no part of the record.</summary>
    /// <param name="services">The services of a scope.</param>
    /// <param name="owner">The owner's context, after its migrations.</param>
    /// <exception cref="StartFailureException">That account is missing, or could undo it.</exception>
    internal static async Task GrantAsync(IServiceProvider services, ClinicContext owner)
    {
        if (Connection(services) is null)
        {
            return;
        }

        var worker = Worker(services.GetRequiredService<ClinicContext>());
        await owner.Database.OpenConnectionAsync();
        var connection = (NpgsqlConnection)owner.Database.GetDbConnection();
        await using var question = new NpgsqlCommand(MayUndo, connection) { Parameters = { new("worker", worker) } };
        switch (await question.ExecuteScalarAsync())
        {
            case null:
                throw new StartFailureException("PostgreSQL has no account with the name given in ConnectionStrings:Default. Create it with CREATE ROLE … LOGIN.");
            case true:
                throw new StartFailureException("The account in ConnectionStrings:Default can act as the owner of the tables. Give the service an account that owns nothing.");
        }

        foreach (var grant in await GrantsForAsync(connection, worker))
        {
            await using var command = new NpgsqlCommand(grant, connection);
            await command.ExecuteNonQueryAsync();
        }
    }

    private static async Task<List<string>> GrantsForAsync(NpgsqlConnection connection, string worker)
    {
        await using var command = new NpgsqlCommand(Grants, connection) { Parameters = { new("worker", worker) } };
        await using var reader = await command.ExecuteReaderAsync();
        var grants = new List<string>();
        while (await reader.ReadAsync())
        {
            grants.Add(reader.GetString(0));
        }

        return grants;
    }

    private static string? Connection(IServiceProvider services) =>
        services.GetRequiredService<ClinicContext>().Database.IsNpgsql() && services.GetRequiredService<IConfiguration>().GetConnectionString(Setting) is { Length: > 0 } given ? given : null;

    private static string Worker(ClinicContext working) =>
        new NpgsqlConnectionStringBuilder(working.Database.GetConnectionString()).Username
            ?? throw new StartFailureException("ConnectionStrings:Default must name the account that the service uses (Username).");
}
