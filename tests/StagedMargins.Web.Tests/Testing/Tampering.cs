namespace StagedMargins.Web.Tests.Testing;

/// <summary>What someone does to a database who may do everything.</summary>
internal static class Tampering
{
    /// <summary>Runs a statement with the triggers of a table taken away, and puts them back.</summary>
    internal static async Task WithoutTriggersAsync(this TestDatabase database, string table, string sql)
    {
        if (database.Engine == Engine.Postgres)
        {
            await database.ExecuteAsync($"ALTER TABLE {table} DISABLE TRIGGER USER; {sql}; ALTER TABLE {table} ENABLE TRIGGER USER");
            return;
        }

        var triggers = await database.QueryAsync<string>($"SELECT sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = '{table}'");
        var names = await database.QueryAsync<string>($"SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = '{table}'");
        await database.ExecuteAsync(string.Concat(["PRAGMA foreign_keys = OFF; ", .. names.Select(name => $"DROP TRIGGER {name}; "), $"{sql}; ", .. triggers.Select(trigger => $"{trigger}; ")]));
    }

    /// <summary>An identifier as a statement has it.</summary>
    internal static string Literal(this TestDatabase database, string id) => database.Engine == Engine.Sqlite ? $"'{id.ToUpperInvariant()}'" : $"'{id}'";
}
