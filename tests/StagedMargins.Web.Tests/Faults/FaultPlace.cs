using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Faults;

/// <summary>A clinic's database with people in it, on which the service runs as a process that may be killed.</summary>
public abstract class FaultPlace(TestClinic clinic) : IAsyncLifetime
{
    /// <summary>The engine under it.</summary>
    public Engine Engine => clinic.Engine;

    /// <summary>The database.</summary>
    public TestDatabase Database => clinic.Database;

    /// <summary>The surroundings of the process.</summary>
    public ProgramPlace Program { get; private set; } = null!;

    public async ValueTask InitializeAsync()
    {
        await clinic.InitializeAsync();
        await clinic.Host.DisposeAsync();
        Program = new ProgramPlace(clinic.Database.Settings);
    }

    public async ValueTask DisposeAsync()
    {
        await Program.DisposeAsync();
        await clinic.DisposeAsync();
        GC.SuppressFinalize(this);
    }
}

/// <summary>On a SQLite file.</summary>
public sealed class SqliteFaultPlace(PostgresServer server) : FaultPlace(new SqliteClinic(server));

/// <summary>On PostgreSQL.</summary>
public sealed class PostgresFaultPlace(PostgresServer server) : FaultPlace(new PostgresClinic(server));
