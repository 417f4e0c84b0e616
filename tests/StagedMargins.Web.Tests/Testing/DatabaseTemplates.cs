using System.Collections.Concurrent;
using Microsoft.EntityFrameworkCore;

namespace StagedMargins.Web.Tests.Testing;

/// <summary>Databases that are made once in a run and copied by every test that needs one like them.</summary>
/// <param name="server">Where those of PostgreSQL are.</param>
public sealed class DatabaseTemplates(PostgresServer server) : IAsyncDisposable
{
    private readonly ConcurrentDictionary<Engine, Lazy<Task<TestDatabase>>> migrated = [];
    private readonly ConcurrentDictionary<Engine, Lazy<Task<ClinicTemplate>>> clinics = [];

    /// <summary>A copy of a database with every table and nobody in it.</summary>
    public async Task<TestDatabase> MigratedAsync(Engine engine) => await (await TemplateAsync(engine)).CopyAsync(server);

    /// <summary>The clinic of the tests: people of every role, who have signed in.</summary>
    internal Task<ClinicTemplate> ClinicAsync(Engine engine) => clinics.GetOrAdd(engine, _ => new(async () =>
    {
        var database = await MigratedAsync(engine);
        var tokens = await ClinicTemplate.FillAsync(database);
        await database.CloseAsync();
        return new ClinicTemplate(database, tokens);
    })).Value;

    public async ValueTask DisposeAsync()
    {
        foreach (var clinic in clinics.Values)
        {
            await (await clinic.Value).Database.DisposeAsync();
        }

        foreach (var database in migrated.Values)
        {
            await (await database.Value).DisposeAsync();
        }
    }

    private Task<TestDatabase> TemplateAsync(Engine engine) => migrated.GetOrAdd(engine, _ => new(async () =>
    {
        var database = await TestDatabase.EmptyAsync(engine, server);
        await using (var db = database.NewContext())
        {
            await db.Database.MigrateAsync();
        }

        await database.CloseAsync();
        return database;
    })).Value;
}
