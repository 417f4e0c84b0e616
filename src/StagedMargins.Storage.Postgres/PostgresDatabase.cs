using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace StagedMargins.Storage.Postgres;

/// <summary>The record in PostgreSQL.</summary>
public static class PostgresDatabase
{
    /// <summary>Points a context at this database and its migrations.</summary>
    /// <param name="options">The options to set.</param>
    /// <param name="connection">The connection string.</param>
    public static void Use(DbContextOptionsBuilder options, string connection) => options
        .UseNpgsql(connection, at => at.MigrationsAssembly(typeof(PostgresDatabase).Assembly.GetName().Name))
        .UseSnakeCaseNamingConvention()
        .AddInterceptors(StatementCount.Interceptor);

    /// <summary>Points a context at a connection that stays its owner's.</summary>
    /// <param name="options">The options to set.</param>
    /// <param name="connection">The connection.</param>
    public static void Use(DbContextOptionsBuilder options, DbConnection connection) => options
        .UseNpgsql(connection, at => at.MigrationsAssembly(typeof(PostgresDatabase).Assembly.GetName().Name))
        .UseSnakeCaseNamingConvention()
        .AddInterceptors(StatementCount.Interceptor);
}

/// <summary>Makes a context for the migration tool; it connects to nothing.</summary>
internal sealed class PostgresDesignTime : IDesignTimeDbContextFactory<ClinicContext>
{
    public ClinicContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<ClinicContext>();
        PostgresDatabase.Use(options, "Host=localhost");
        return new ClinicContext(options.Options, new ClinicScope());
    }
}
