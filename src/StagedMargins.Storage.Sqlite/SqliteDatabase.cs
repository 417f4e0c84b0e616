using System.Data.Common;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;

namespace StagedMargins.Storage.Sqlite;

/// <summary>The record in a SQLite file.</summary>
public static class SqliteDatabase
{
    /// <summary>Points a context at this database and its migrations.</summary>
    /// <param name="options">The options to set.</param>
    /// <param name="connection">The connection string.</param>
    public static void Use(DbContextOptionsBuilder options, string connection) => options
        .UseSqlite(connection, at => at.MigrationsAssembly(typeof(SqliteDatabase).Assembly.GetName().Name))
        .UseSnakeCaseNamingConvention()
        .AddInterceptors(StatementCount.Interceptor);

    /// <summary>Points a context at a connection that stays its owner's.</summary>
    /// <param name="options">The options to set.</param>
    /// <param name="connection">The connection.</param>
    public static void Use(DbContextOptionsBuilder options, DbConnection connection) => options
        .UseSqlite(connection, at => at.MigrationsAssembly(typeof(SqliteDatabase).Assembly.GetName().Name))
        .UseSnakeCaseNamingConvention()
        .AddInterceptors(StatementCount.Interceptor);
}

/// <summary>Makes a context for the migration tool; it connects to nothing.</summary>
internal sealed class SqliteDesignTime : IDesignTimeDbContextFactory<ClinicContext>
{
    public ClinicContext CreateDbContext(string[] args)
    {
        var options = new DbContextOptionsBuilder<ClinicContext>();
        SqliteDatabase.Use(options, "Data Source=design.db");
        return new ClinicContext(options.Options);
    }
}
