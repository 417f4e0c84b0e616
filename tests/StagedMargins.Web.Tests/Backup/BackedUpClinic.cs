using System.IO.Compression;
using StagedMargins.Drawing.Tests.Photos;
using StagedMargins.Web.Tests.Faults;
using StagedMargins.Web.Tests.Testing;

namespace StagedMargins.Web.Tests.Backup;

/// <summary>A record worth a backup, and its backups: people, two cases written by the service itself under keys, and the means to restore it elsewhere.</summary>
public abstract class BackedUpClinic(ClinicInstallation source, PostgresServer server) : IAsyncLifetime
{
    /// <summary>A write that was answered, with its key.</summary>
    public static readonly (string Name, string Value) Key = ("Idempotency-Key", "kept-over-the-backup");

    /// <summary>Where the record is.</summary>
    public ClinicInstallation Source => source;

    /// <summary>The answer to the write under <see cref="Key"/>.</summary>
    public Reply Answer { get; private set; } = null!;

    /// <summary>The body of that write.</summary>
    public string Body { get; } = Some.Case().ToJsonString();

    /// <summary>A key file.</summary>
    public string KeyFile => PathOf("backup.key");

    /// <summary>The token of another system.</summary>
    public string ApiToken { get; private set; } = "";

    /// <summary>The head of the record some entries after the backups, as an anchor file keeps it.</summary>
    public string LaterHead { get; private set; } = "";

    /// <summary>A backup that is not encrypted.</summary>
    public string Plain => PathOf("plain.zip");

    /// <summary>A backup that is encrypted with <see cref="KeyFile"/>.</summary>
    public string Encrypted => PathOf("encrypted.backup");

    public async ValueTask InitializeAsync()
    {
        await source.InitializeAsync();
        await using (var service = source.Program.StartHost())
        {
            var surgeon = await service.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password);
            Answer = (await surgeon.PostTextAsync("/api/cases", Body, Key)).Expect(201);
            await surgeon.AddSitePhotoAsync(Answer.Text("id"), CameraFile.Jpeg(640, 400));
            (await surgeon.EndAsync(await surgeon.OpenClearAsync(), Some.EndCleared())).Expect(200);
            var administrator = await service.Stranger().SignInAsync(TestClinic.AdministratorEmail, TestClinic.Password);
            ApiToken = (await administrator.PostAsync("/api/tokens", Some.Json("""{ "name": "Laboratory", "roles": ["histotech"] }"""))).Expect(201).Text("token");
        }

        await source.Database.ExecuteAsync("INSERT INTO \"AspNetUserClaims\" (user_id, claim_type, claim_value) SELECT id, 'x', 'y' FROM \"AspNetUsers\"");
        await File.WriteAllTextAsync(KeyFile, Convert.ToBase64String(System.Security.Cryptography.RandomNumberGenerator.GetBytes(32)));
        (await source.Program.RunAsync("backup", "--to", Plain)).Code.ShouldBe(0);
        (await source.Program.RunAsync("backup", "--to", Encrypted, "--key-file", KeyFile)).Code.ShouldBe(0);
        await using (var service = source.Program.StartHost())
        {
            await (await service.Stranger().SignInAsync(TestClinic.SurgeonEmail, TestClinic.Password)).OpenClearAsync();
        }

        LaterHead = (await source.Program.RunAsync("verify")).Output.Split('\n').Single(line => line.EndsWith(" intact", StringComparison.Ordinal))[..^" intact".Length];
    }

    /// <summary>A path in the folder of the installation.</summary>
    public string PathOf(string name) => Path.Combine(source.Program.Folder, name);

    /// <summary>An empty installation for a restore: for SQLite without a file, for PostgreSQL an empty database; the history keys are those of the source.</summary>
    public async Task<EmptyInstallation> EmptyAsync(Engine engine)
    {
        var database = await TestDatabase.EmptyAsync(engine, server);
        return new EmptyInstallation(database, new Installation(new Dictionary<string, string>(database.Settings) { ["History:KeyFile"] = source.Program.HistoryKeyFile }));
    }

    /// <summary>The rows of every table of a backup that is not encrypted, in an order of their own.</summary>
    public static async Task<IReadOnlyDictionary<string, string[]>> RowsAsync(string path)
    {
        await using var archive = await ZipFile.OpenReadAsync(path);
        var rows = new Dictionary<string, string[]>();
        foreach (var entry in archive.Entries.Where(entry => entry.Name.EndsWith(".jsonl", StringComparison.Ordinal)))
        {
            using var reader = new StreamReader(await entry.OpenAsync());
            rows[entry.Name] = [.. (await reader.ReadToEndAsync()).Split('\n', StringSplitOptions.RemoveEmptyEntries).Order(StringComparer.Ordinal)];
        }

        return rows;
    }

    public async ValueTask DisposeAsync()
    {
        await source.DisposeAsync();
        GC.SuppressFinalize(this);
    }
}

/// <summary>The program on an empty database, for a record to be restored into.</summary>
/// <param name="Database">The database.</param>
/// <param name="Program">The program.</param>
public sealed record EmptyInstallation(TestDatabase Database, Installation Program) : IAsyncDisposable
{
    /// <summary>True where nothing was made in it.</summary>
    public async Task<bool> IsEmptyAsync() => Database.Engine == Engine.Sqlite
        ? Directory.GetFileSystemEntries(Path.GetDirectoryName(Database.Connection["Data Source=".Length..])!).Length == 0
        : (await Database.QueryAsync<long>("SELECT count(*) FROM pg_class WHERE relnamespace = current_schema()::regnamespace"))[0] == 0;

    public async ValueTask DisposeAsync()
    {
        await Program.DisposeAsync();
        await Database.DisposeAsync();
    }
}

/// <summary>A record in a SQLite file.</summary>
public sealed class SqliteBackedUpClinic(PostgresServer server) : BackedUpClinic(new SqliteInstallation(server), server);

/// <summary>A record in PostgreSQL.</summary>
public sealed class PostgresBackedUpClinic(PostgresServer server) : BackedUpClinic(new PostgresInstallation(server), server);
