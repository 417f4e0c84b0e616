using DotNet.Testcontainers.Builders;
using Npgsql;
using StagedMargins.Web.Tests.Testing;
using Testcontainers.PostgreSql;

[assembly: AssemblyFixture(typeof(PostgresServer))]

namespace StagedMargins.Web.Tests.Testing;

/// <summary>
/// The one real PostgreSQL of a test run, started when it is first asked for: the server that <c>STAGEDMARGINS_TEST_POSTGRES</c>
/// names, else a container where a Docker engine answers, else a throw-away cluster of the machine's own PostgreSQL.
/// </summary>
public sealed class PostgresServer : IAsyncDisposable
{
    /// <summary>The environment variable with the connection string of a server that may be used for tests.</summary>
    public const string Variable = "STAGEDMARGINS_TEST_POSTGRES";

    private readonly SemaphoreSlim gate = new(1);
    private readonly DatabaseTemplates templates;
    private IAsyncDisposable? started;
    private string? connection;

    public PostgresServer() => templates = new DatabaseTemplates(this);

    /// <summary>Databases of this server, and SQLite files, to be copied.</summary>
    public DatabaseTemplates Templates => templates;

    /// <summary>A server of the caller's own, which the caller ends.</summary>
    internal static PostgresServer On(PostgresCluster cluster) => new() { connection = cluster.Connection };

    /// <summary>The connection string for a database of this server, which need not exist.</summary>
    /// <exception cref="InvalidOperationException">No PostgreSQL can be had in any of the three ways.</exception>
    public async Task<string> ConnectionToAsync(string database)
    {
        await gate.WaitAsync();
        try
        {
            connection ??= await StartAsync();
        }
        finally
        {
            gate.Release();
        }

        return new NpgsqlConnectionStringBuilder(connection) { Database = database, MaxPoolSize = 60 }.ToString();
    }

    /// <summary>Makes a database: empty, or a copy of another that nobody is connected to.</summary>
    public Task CreateAsync(string database, string? template = null) =>
        ExecuteAsync($"CREATE DATABASE \"{database}\"{(template is null ? "" : $" TEMPLATE \"{template}\"")}");

    /// <summary>Drops a database, whoever is still connected to it.</summary>
    public Task DropAsync(string database) => ExecuteAsync($"DROP DATABASE IF EXISTS \"{database}\" WITH (FORCE)");

    public async ValueTask DisposeAsync()
    {
        await templates.DisposeAsync();
        NpgsqlConnection.ClearAllPools();
        if (started is not null)
        {
            await started.DisposeAsync();
        }

        gate.Dispose();
    }

    private async Task ExecuteAsync(string statement)
    {
        // Not from the pool, whose connections a test that stops the server has broken.
        var connection = new NpgsqlConnectionStringBuilder(await ConnectionToAsync("postgres")) { Pooling = false };
        await using var server = new NpgsqlConnection(connection.ToString());
        await server.OpenAsync();
        await using var command = new NpgsqlCommand(statement, server);
        await command.ExecuteNonQueryAsync();
    }

    private async Task<string> StartAsync()
    {
        if (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } given)
        {
            return given;
        }

        try
        {
            var container = new PostgreSqlBuilder("postgres:15-alpine").Build();
            started = container;
            await container.StartAsync();
            return container.GetConnectionString();
        }
        catch (DockerUnavailableException)
        {
            var cluster = await PostgresCluster.StartAsync()
                ?? throw new InvalidOperationException($"No PostgreSQL for the tests: {Variable} is not set, no Docker engine answers, and {PostgresCluster.Home} holds no PostgreSQL.");
            started = cluster;
            return cluster.Connection;
        }
    }
}
