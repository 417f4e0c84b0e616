using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Faults;

/// <summary>The program on a record with the clinic of the tests in it, to be started, killed and started again.</summary>
public abstract class ClinicInstallation(Engine engine, PostgresServer server) : IAsyncLifetime
{
    /// <summary>The engine under it.</summary>
    public Engine Engine => engine;

    /// <summary>The record.</summary>
    public TestDatabase Database { get; private set; } = null!;

    /// <summary>The program.</summary>
    public Installation Program { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        Database = await (await server.Templates.ClinicAsync(engine)).Database.CopyAsync(server);
        Program = new Installation(Database.Settings);
    }

    public async ValueTask DisposeAsync()
    {
        await Program.DisposeAsync();
        await Database.DisposeAsync();
        GC.SuppressFinalize(this);
    }
}

/// <summary>On a SQLite file.</summary>
public sealed class SqliteInstallation(PostgresServer server) : ClinicInstallation(Engine.Sqlite, server);

/// <summary>On PostgreSQL.</summary>
public sealed class PostgresInstallation(PostgresServer server) : ClinicInstallation(Engine.Postgres, server);
