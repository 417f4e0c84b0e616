using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using Npgsql;

namespace StagedMargins.Storage.Postgres;

/// <summary>The record in PostgreSQL.</summary>
public static class PostgresDatabase
{
    private const int MostPrepared = 100;
    private const int SecondsToConnect = 2;

    // One that does not answer is given up after these seconds, and twice those to connect: the driver tries to cancel, and to close.
    private const int SecondsToAnswer = 4;
    private const int WithoutWaiting = -1;

    /// <summary>Points a context at this database and its migrations.</summary>
    /// <param name="options">The options to set.</param>
    /// <param name="connection">The connection string.</param>
    /// <param name="isWaitedFor">True where a person waits for each answer: a database that does not answer soon then counts as away.</param>
    public static void Use(DbContextOptionsBuilder options, string connection, bool isWaitedFor = false) => options
        .UseNpgsql(WithDefaults(connection, isWaitedFor), at => at.MigrationsAssembly(typeof(PostgresDatabase).Assembly.GetName().Name))
        .UseSnakeCaseNamingConvention()
        .AddInterceptors(StatementCount.Interceptor);

    /// <summary>Points a context at a connection that stays its owner's.</summary>
    /// <param name="options">The options to set.</param>
    /// <param name="connection">The connection.</param>
    public static void Use(DbContextOptionsBuilder options, DbConnection connection) => options
        .UseNpgsql(connection, at => at.MigrationsAssembly(typeof(PostgresDatabase).Assembly.GetName().Name))
        .UseSnakeCaseNamingConvention()
        .AddInterceptors(StatementCount.Interceptor);

    // What the operator's connection string says comes first. Statements that come again and again are planned once by each connection
    // (Max Auto Prepare=0 behind a pooler that does not know prepared statements), and a connection that goes back to the pool is not
    // reset, for nothing of it is ever set.
    private static string WithDefaults(string connection, bool isWaitedFor)
    {
        var given = new DbConnectionStringBuilder { ConnectionString = connection }.Keys.Cast<string>().Select(key => key.Replace(" ", "", StringComparison.Ordinal)).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var builder = new NpgsqlConnectionStringBuilder(connection);
        Default(nameof(builder.MaxAutoPrepare), () => builder.MaxAutoPrepare = MostPrepared);
        Default(nameof(builder.NoResetOnClose), () => builder.NoResetOnClose = true);
        if (isWaitedFor)
        {
            Default(nameof(builder.Timeout), () => builder.Timeout = SecondsToConnect);
            Default(nameof(builder.CommandTimeout), () => builder.CommandTimeout = SecondsToAnswer);
            Default(nameof(builder.CancellationTimeout), () => builder.CancellationTimeout = WithoutWaiting);
        }

        return builder.ToString();

        void Default(string keyword, Action set)
        {
            if (!given.Contains(keyword))
            {
                set();
            }
        }
    }
}

/// <summary>Makes a context for the migration tool; it connects to nothing.</summary>
internal sealed class PostgresDesignTime : IDesignTimeDbContextFactory<ClinicContext>
{
    public ClinicContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<ClinicContext>();
        PostgresDatabase.Use(options, "Host=localhost");
        return new ClinicContext(options.Options);
    }
}
